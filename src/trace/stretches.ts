import { describe, fail } from '../core/index.js';
import { firstAtOrAfter, quantileInPlace } from '../numeric/index.js';
import { copyNumbers } from './read-samples.js';
import type { Trace } from './trace.js';

/** Samples `from` to `to`, both included, with no gap between them. */
export interface SampleRange {
  /** [samples] Index of the first. */
  readonly from: number;
  /** [samples] Index of the last. */
  readonly to: number;
}

/** The stretches between gaps, in order; one when there is no gap. */
export function stretchesOf(trace: Trace): SampleRange[] {
  const stretches: SampleRange[] = [];
  let from = 0;
  for (const gap of [...trace.gaps, { to: Infinity }]) {
    const next = firstAtOrAfter(trace.time, gap.to);
    stretches.push({ from, to: next - 1 });
    from = next;
  }
  return stretches;
}

/** [-] A sample this part of an interval off an equal grid still counts as on it. */
const tolerance = 0.1;

/** Whether each sample lies within a tenth of an interval of an equal grid from the first to the last. */
export function isEven(time: Float64Array): boolean {
  const start = time[0]!;
  const last = time.length - 1;
  const interval = (time[last]! - start) / last;
  return time.every((t, i) => Math.abs(t - start - interval * i) <= tolerance * interval);
}

/** [min] An interval that the given part of the intervals do not exceed; at least two samples. */
export function intervalQuantile(time: Float64Array, part: number): number {
  const intervals = Float64Array.from({ length: time.length - 1 }, (_, i) => time[i + 1]! - time[i]!);
  return quantileInPlace(intervals, intervals.length, part);
}

/** Refuses to make a trace of fewer than 2 samples; `which` says which samples were counted. */
export function checkEnough(caller: string, { time }: Trace, field: string, count: number, which: string): void {
  if (count >= 2) return;
  const message = `${count} samples ${which}; a trace needs 2. The record runs from ${time[0]!} to ${time.at(-1)!} min.`;
  fail(caller, 'trace-too-short', message, { field, value: count });
}

/** Copies numbers that must increase, from `from` to `to`. */
export function copyIncreasing(
  caller: string,
  field: string,
  values: ArrayLike<number>,
  from: number,
  to: number,
): Float64Array {
  const numbers = copyNumbers(caller, field, values, 'option-invalid');
  numbers.forEach((number, index) => {
    if (number >= from && number <= to && !(number <= numbers[index - 1]!)) return;
    const value: unknown = values[index];
    const message = `${field}[${index}] is ${describe(value)}; ${field} must be increasing numbers from ${from} to ${to}.`;
    fail(caller, 'option-invalid', message, { index, field, value });
  });
  return numbers;
}
