import type { Gap } from './trace.js';

/** [-] How many intervals on each side of one say what is usual there. */
const neighbours = 10;
/** [-] A gap is longer than so many usual intervals. */
const factor = 5;
/** [-] A side with fewer intervals than this has no say. */
const fewest = 3;

/**
 * Indices i for which the interval from sample i to sample i + 1 is a gap: more
 * than five times the usual interval on each side, that is, more than half of
 * the (up to ten) intervals before it and more than half of the (up to ten)
 * after it are shorter than a fifth of it. Asking both sides keeps the seam
 * between two sampling rates, and jitter, from being gaps. At the ends of the
 * record a side with fewer than three intervals is not asked; with no side to
 * ask there is no gap.
 */
export function findGaps(time: Float64Array): number[] {
  const n = time.length;
  const found: number[] = [];
  let shortest = Infinity;
  let longest = 0;
  for (let i = 1; i < n; i++) {
    const interval = time[i]! - time[i - 1]!;
    if (interval < shortest) shortest = interval;
    if (interval > longest) longest = interval;
  }
  if (longest <= factor * shortest) return found;
  for (let i = 0; i < n - 1; i++) {
    const interval = time[i + 1]! - time[i]!;
    if (interval <= factor * shortest) continue;
    const before = isUsuallyShorter(time, Math.max(0, i - neighbours), i, interval / factor);
    if (before === false) continue;
    const after = isUsuallyShorter(time, i + 1, Math.min(n - 1, i + 1 + neighbours), interval / factor);
    if (after === false || (before === undefined && after === undefined)) continue;
    found.push(i);
  }
  return found;
}

/** Whether more than half of the intervals between samples `from` and `to` are shorter than `limit`. */
function isUsuallyShorter(time: Float64Array, from: number, to: number, limit: number): boolean | undefined {
  if (to - from < fewest) return undefined;
  let shorter = 0;
  for (let i = from; i < to; i++) if (time[i + 1]! - time[i]! < limit) shorter++;
  return 2 * shorter > to - from;
}

/** The gaps whose two end samples both lie in `time[first]` to `time[last]`. */
export function gapsWithin(gaps: readonly Gap[], first: number, last: number): Gap[] {
  return gaps.filter((gap) => gap.from >= first && gap.to <= last);
}

/** Gaps of a trace whose samples `places` have a gap after them, in any order and possibly twice. */
export function gapsAfter(time: Float64Array, places: Iterable<number>): Gap[] {
  return [...new Set(places)].sort((a, b) => a - b).map((i) => ({ from: time[i]!, to: time[i + 1]! }));
}
