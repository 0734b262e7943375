import { quantileInPlace } from '../numeric/index.js';
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
  for (const gap of trace.gaps) {
    const next = firstAtOrAfter(trace.time, gap.to);
    stretches.push({ from, to: next - 1 });
    from = next;
  }
  stretches.push({ from, to: trace.time.length - 1 });
  return stretches;
}

/** Index of the first time that is not before `t`; the number of times when all are. */
export function firstAtOrAfter(time: Float64Array, t: number): number {
  let low = 0;
  let high = time.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (time[middle]! < t) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** [-] A sample this part of an interval off an equal grid still counts as on it. */
const tolerance = 0.1;

/**
 * [min] The interval of an evenly sampled stretch: each sample lies within a
 * tenth of an interval of an equal grid from the first to the last. Otherwise,
 * and for a single sample, `undefined`.
 */
export function evenInterval(time: Float64Array, range: SampleRange): number | undefined {
  const { from, to } = range;
  if (to <= from) return undefined;
  const start = time[from]!;
  const interval = (time[to]! - start) / (to - from);
  for (let i = from + 1; i < to; i++) {
    if (Math.abs(time[i]! - start - interval * (i - from)) > tolerance * interval) return undefined;
  }
  return interval;
}

/** [min] An interval that the given part of the intervals of a stretch do not exceed; at least two samples. */
export function intervalQuantile(time: Float64Array, range: SampleRange, part: number): number {
  const count = range.to - range.from;
  const intervals = new Float64Array(count);
  for (let i = 0; i < count; i++) intervals[i] = time[range.from + i + 1]! - time[range.from + i]!;
  return quantileInPlace(intervals, count, part);
}
