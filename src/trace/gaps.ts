import { firstAtOrAfter } from '../numeric/index.js';
import type { Gap } from './trace.js';

/** [-] How many intervals on each side of one say what is usual there. */
const neighbours = 10;
/** [-] A gap is longer than so many usual intervals. */
const factor = 5;
/** [-] A side with fewer intervals than this has no say. */
const fewest = 3;

/**
 * [min] Times of the samples after which there is a gap: an interval more than
 * five times the usual one on each side, that is, more than half of the (up to
 * ten) intervals before it and more than half of the (up to ten) after it are
 * shorter than a fifth of it. Asking both sides keeps the seam between two
 * sampling rates, and jitter, from being gaps. At the ends of the record a side
 * with fewer than three intervals is not asked; with no side to ask there is no gap.
 */
export function findGaps(time: Float64Array): number[] {
  const found: number[] = [];
  let shortest = Infinity;
  let longest = 0;
  // Math.min and Math.max cost half of what comparisons do here.
  for (let i = 1; i < time.length; i++) {
    const interval = time[i]! - time[i - 1]!;
    shortest = Math.min(shortest, interval);
    longest = Math.max(longest, interval);
  }
  if (longest <= factor * shortest) return found;
  for (let i = 1; i < time.length; i++) {
    const limit = (time[i]! - time[i - 1]!) / factor;
    if (limit <= shortest) continue;
    const before = isUsuallyShorter(time, i - 1 - neighbours, i - 1, limit);
    const after = isUsuallyShorter(time, i, i + neighbours, limit);
    if ((before ?? after) === true && after !== false) found.push(time[i - 1]!);
  }
  return found;
}

/** Whether more than half of the intervals between samples `from` and `to` are shorter than `limit`. */
function isUsuallyShorter(time: Float64Array, from: number, to: number, limit: number): boolean | undefined {
  const first = Math.max(0, from);
  const last = Math.min(time.length - 1, to);
  if (last - first < fewest) return undefined;
  let shorter = 0;
  for (let i = first; i < last; i++) if (time[i + 1]! - time[i]! < limit) shorter++;
  return 2 * shorter > last - first;
}

/** Gaps on a time axis: one wherever `starts`, in any order, says that from there to the next sample nothing is known. */
export function gapsFrom(time: Float64Array, starts: readonly number[]): Gap[] {
  const ends = new Set(starts.map((start) => firstAfter(time, start)));
  return [...ends]
    .sort((a, b) => a - b)
    .flatMap((i) => (i > 0 && i < time.length ? [{ from: time[i - 1]!, to: time[i]! }] : []));
}

/** Index of the first time that is after `t`; the number of times when none is. */
export function firstAfter(time: Float64Array, t: number): number {
  const i = firstAtOrAfter(time, t);
  return time[i] === t ? i + 1 : i;
}

/** Which times lie strictly inside a hole: for each hole with any, the first and the one after the last. */
export function timesInside(time: Float64Array, holes: readonly Gap[]): [first: number, end: number][] {
  return holes
    .map(({ from, to }): [number, number] => [firstAfter(time, from), firstAtOrAfter(time, to)])
    .filter(([first, end]) => first < end);
}

/** The values at the indices outside all ranges. */
export function valuesOutside(values: Float64Array, ranges: readonly (readonly [number, number])[]): Float64Array {
  const inside = new Uint8Array(values.length);
  for (const [first, end] of ranges) inside.fill(1, first, end);
  return values.filter((_, i) => inside[i] === 0);
}
