import { hashTrace, type Analysis } from '../analysis/index.js';
import { checkFinite } from './not-finite.js';

/**
 * A run as JSON, for storing and for comparing by text: every field of the
 * analysis, with `format` `'peakwright-analysis'` and `version` 1 among them.
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
 *   infinite, which JSON cannot hold; it says in which field.
 *
 * @public
 */
export function renderResultJson(analysis: Analysis): string {
  const { time, signal, ...known } = analysis.trace;
  const ends = { samples: signal.length, from: time[0], to: time[time.length - 1] };
  const trace = { ...known, ...ends, hash: hashTrace(analysis.trace) };
  return `${JSON.stringify({ format: 'peakwright-analysis', version: 1, ...analysis, trace }, plain, 2)}\n`;
}

/** Typed arrays as arrays, the keys of objects in order, numbers only when they are finite. */
function plain(key: string, value: unknown): unknown {
  if (typeof value === 'number') checkFinite(value, `The number ${key} of the result`);
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  if (ArrayBuffer.isView(value)) return Array.from(value as unknown as ArrayLike<number>);
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
