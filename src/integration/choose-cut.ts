import type { Baseline } from '../baseline/index.js';
import { exp } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { skimQuestion, tailOf } from './lay-skim.js';
import type { Divider, PlannedPeak } from './plan.js';
import { touchingPoint } from './touching-point.js';

/** Peaks side by side of which the order of their dividers is asked. */
export interface Cuttable {
  readonly peaks: readonly PlannedPeak[];
  /** Of each peak: what divides it from the one before. */
  readonly dividers: readonly (Divider | 'policy')[];
  /** [signal unit] Of each peak: height of the signal where it begins. */
  readonly depth: readonly number[];
  readonly base: Baseline;
  readonly sign: 1 | -1;
}

/** [-] Part of the signal at a valley that the tail of the larger peak must make up for what lies beyond to ride on that one. */
const mostlyTail = 0.5;

/**
 * Which valley between the peaks `lo` to `hi` divides first, when `top` is the largest of them.
 *
 * What lies beyond the valley beside the largest rides on it one after the other, or rides on
 * what is next to that valley, or is fused with it. With tangents what the line from the valley passes under before it
 * touches belongs together; with exponentials what stands at its valley mostly on something else than the tail of the
 * largest. The outermost that rides on the largest is parted first. Without a skim beside the largest it is the lowest valley.
 *
 * @param from - [min] Where the first begins.
 * @param to - [min] Where the last ends.
 * @returns Index of the peak before which to divide.
 */
export function chooseCut(
  trace: Pick<Trace, 'time' | 'signal'>,
  cuttable: Cuttable,
  [lo, top, hi]: readonly [number, number, number],
  from: number,
  to: number,
): number {
  const { depth } = cuttable;
  const cuts: number[] = [];
  if (top < hi) cuts.push(cutBehind(trace, cuttable, top, hi, to));
  if (top > lo) cuts.push(cutBefore(trace, cuttable, lo, top, from));
  return cuts.reduce((a, b) => (depth[b]! < depth[a]! ? b : a));
}

function cutBehind(trace: Pick<Trace, 'time' | 'signal'>, all: Cuttable, top: number, hi: number, to: number): number {
  const { peaks, dividers, depth } = all;
  const begins = (k: number): number => peaks[k]!.start;
  let cut = top + 1;
  if (dividers[cut] === 'drop line' || dividers[cut] === 'valley to valley') return lowest(depth, cut, hi);
  const lies = standsOnTail(trace, all, top, begins(cut), depth[cut]!);
  for (let k = cut + 1; k <= hi; k++) {
    if (dividers[top + 1] === 'tangent skim') {
      const touch = touchOf(trace, all, peaks.slice(cut, hi + 1), begins(cut), to, peaks[cut]!.apex);
      if (touch !== undefined && touch < begins(k)) cut = k;
    } else if (lies(begins(k), depth[k]!)) cut = k;
  }
  return cut;
}

function cutBefore(
  trace: Pick<Trace, 'time' | 'signal'>,
  all: Cuttable,
  lo: number,
  top: number,
  from: number,
): number {
  const { peaks, dividers, depth } = all;
  const begins = (k: number): number => peaks[k]!.start;
  let cut = top;
  if (dividers[cut] === 'drop line' || dividers[cut] === 'valley to valley') return lowest(depth, lo + 1, cut);
  const lies = standsOnTail(trace, all, top, begins(cut), depth[cut]!);
  for (let k = cut - 1; k > lo; k--) {
    if (dividers[top] === 'tangent skim') {
      const touch = touchOf(trace, all, peaks.slice(lo, cut), begins(cut), from, peaks[cut - 1]!.apex);
      if (touch !== undefined && touch > begins(k)) cut = k;
    } else if (lies(begins(k), depth[k]!)) cut = k;
  }
  return cut;
}

function lowest(depth: readonly number[], first: number, last: number): number {
  let cut = first;
  for (let k = first + 1; k <= last; k++) if (depth[k]! < depth[cut]!) cut = k;
  return cut;
}

/** [min] Where the line from a valley touches first. */
function touchOf(
  trace: Pick<Trace, 'time' | 'signal'>,
  { sign }: Cuttable,
  riders: readonly PlannedPeak[],
  valley: number,
  room: number,
  apex: number,
): number | undefined {
  const question = skimQuestion(trace, sign, riders, valley, room, apex);
  return question && touchingPoint(question).at;
}

/** Whether the tail of a peak, drawn on from a valley, makes up most of the signal at another. */
function standsOnTail(
  trace: Pick<Trace, 'time' | 'signal'>,
  { peaks, base, sign }: Cuttable,
  top: number,
  valley: number,
  height: number,
): (t: number, level: number) => boolean {
  const tail = tailOf(trace, base, peaks[top]!, valley, sign);
  return (t, level) =>
    tail !== undefined && height * exp(-tail.rate * Math.abs(t - valley)) >= mostlyTail * Math.max(level, 0);
}
