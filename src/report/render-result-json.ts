import { hashTrace, type Analysis } from '../analysis/index.js';
import { PeakwrightError } from '../core/index.js';

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
  const { trace, ...rest } = analysis;
  const { time, signal, ...known } = trace;
  const described = { ...known, hash: hashTrace(analysis.trace), samples: signal.length };
  const body = Object.entries({ ...rest, trace: { ...described, from: time[0], to: time[time.length - 1] } })
    .filter(([, value]) => value !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, value]) => `  ${JSON.stringify(key)}: ${write(value, key, '  ')}`);
  return `{\n${['  "format": "peakwright-analysis"', '  "version": 1', ...body].join(',\n')}\n}\n`;
}

function write(value: unknown, path: string, indent: string): string {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new PeakwrightError('result-not-finite', `The result holds ${value} at ${path}; JSON cannot.`, {
      field: path,
      value,
    });
  }
  if (ArrayBuffer.isView(value)) return writeList(Array.from(value as unknown as ArrayLike<number>), path, indent);
  if (Array.isArray(value)) return writeList(value, path, indent);
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const deeper = `${indent}  `;
  const lines = Object.entries(value as Record<string, unknown>)
    .filter(([, item]) => item !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, item]) => `${deeper}${JSON.stringify(key)}: ${write(item, `${path}.${key}`, deeper)}`);
  return lines.length === 0 ? '{}' : `{\n${lines.join(',\n')}\n${indent}}`;
}

/** Numbers and texts on one line; anything larger one to a line. */
function writeList(values: readonly unknown[], path: string, indent: string): string {
  const flat = values.every((value) => typeof value !== 'object' || value === null);
  const deeper = `${indent}  `;
  const items = values.map((value, i) => write(value ?? null, `${path}[${i}]`, deeper));
  if (flat) return `[${items.join(', ')}]`;
  return `[\n${items.map((item) => deeper + item).join(',\n')}\n${indent}]`;
}
