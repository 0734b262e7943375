import { describe, fail, type ErrorCode } from '../core/index.js';

/** Times and readings of one record, of one length. */
export interface Columns<T> {
  readonly time: T;
  readonly signal: T;
}

/** Beyond this in size no reading is real, and sums of squares would run out of the range of numbers. */
const largest = 1e100;

/** False for NaN and infinities too. */
export function isUsable(value: number): boolean {
  return Math.abs(value) <= largest;
}

/** Copies an array of numbers; what is no number (null, text, a hole) becomes NaN, never 0. */
export function copyNumbers(
  caller: string,
  field: string,
  values: ArrayLike<number> | undefined,
  code: ErrorCode = 'trace-invalid',
): Float64Array {
  if (typeof values !== 'object' || values === null || !Number.isInteger(values.length)) {
    fail(caller, code, `${field} must be an array of numbers; received ${describe(values)}.`, { field });
  }
  if (values instanceof Float64Array) return new Float64Array(values);
  const copy = new Float64Array(values.length);
  for (let i = 0; i < copy.length; i++) {
    const value: unknown = values[i];
    copy[i] = typeof value === 'number' ? value : Number.NaN;
  }
  return copy;
}
