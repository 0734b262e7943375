import { describe, fail, type ErrorCode } from '../core/index.js';

/** Times and readings of one record, of one length. */
export interface Columns<T extends ArrayLike<number>> {
  readonly time: T;
  readonly signal: T;
}

/** Beyond this in size no reading is real, and sums of squares would run out of the range of numbers. */
const largest = 1e100;

/** False for NaN and infinities too. */
export function isUsable(value: number): boolean {
  return Math.abs(value) <= largest;
}

/** Whether every value is usable. */
export function areUsable(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i++) if (!isUsable(values[i]!)) return false;
  return true;
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

/** The shortest and the longest interval; NaN when a time is NaN. */
export function intervalRange(time: Float64Array): readonly [shortest: number, longest: number] {
  let shortest = Infinity;
  let longest = 0;
  // Math.min and Math.max cost half of what comparisons do here, and pass NaN on.
  for (let i = 1; i < time.length; i++) {
    const interval = time[i]! - time[i - 1]!;
    shortest = Math.min(shortest, interval);
    longest = Math.max(longest, interval);
  }
  return [shortest, longest];
}
