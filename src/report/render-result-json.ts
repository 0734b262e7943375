import { hashTrace, type Analysis } from '../analysis/index.js';
import { checkFinite } from './not-finite.js';

/**
 * A run as JSON, for storing and for comparing by text: `format`
 * `'peakwright-analysis'`, `version` 1, then every field of the analysis.
 *
 * The trace is named by its hash, its length and what is known about it; its
 * samples are not repeated. Keys stand in alphabetical order at every depth, so
 * equal results are equal texts. Typed arrays become arrays; what is not known is
 * left out; numbers keep all their digits.
 *
 * @param analysis - The run; only read.
 *
 * @returns JSON with a line end behind it.
 *
 * @throws {@link PeakwrightError} `result-not-finite` when a number is NaN or
 *   infinite, which JSON cannot hold; it says where.
 *
 * @public
 */
export function renderResultJson(analysis: Analysis): string {
  const body = write(named(analysis), '', '');
  return `{\n  "format": "peakwright-analysis",\n  "version": 1,${body.slice(1)}\n`;
}

/** The run with its trace, and that of its blank, named. */
function named({ trace, blank, ...run }: Analysis): object {
  const { time, signal, ...known } = trace;
  const record = { ...known, hash: hashTrace(trace), samples: signal.length, from: time[0], to: time.at(-1) };
  return { ...run, trace: record, ...(blank && { blank: named(blank) }) };
}

/** Lists of numbers and texts on one line; anything larger one to a line. */
function write(value: unknown, path: string, indent: string): string {
  if (typeof value === 'number') checkFinite(value, path);
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const deeper = `${indent}  `;
  const list: unknown = ArrayBuffer.isView(value) ? Array.from(value as unknown as ArrayLike<number>) : value;
  const isList = Array.isArray(list);
  const items = isList
    ? list.map((item, i) => write(item ?? null, `${path}[${i}]`, deeper))
    : Object.entries(value as Record<string, unknown>)
        .filter(([, item]) => item !== undefined)
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([key, item]) => `${JSON.stringify(key)}: ${write(item, path === '' ? key : `${path}.${key}`, deeper)}`);
  const [open, close] = isList ? '[]' : '{}';
  const flat = isList && list.every((item) => typeof item !== 'object' || item === null);
  if (flat || items.length === 0) return `${open}${items.join(', ')}${close}`;
  return `${open}\n${items.map((item) => deeper + item).join(',\n')}\n${indent}${close}`;
}
