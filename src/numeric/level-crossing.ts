import { fitLocalPolynomial } from './local-polynomial.js';
import { firstEntryFrom, lastEntryTo, type Stretch } from './stretch.js';

/** Where a curve falls through a level, and how that was found. */
export interface Crossing {
  /** Position. */
  readonly time: number;
  /** By a quadratic fitted around it, or on the straight line between two samples. */
  readonly method: 'local fit' | 'two samples';
  /** Points used. */
  readonly points: number;
}

/** A local fit needs this many points; with fewer the straight line between two samples is as good. */
const fewestPoints = 7;

/**
 * First crossing of a level outward from `start`: to the right for side 1, to
 * the left for side -1.
 *
 * Where fewer than seven points lie within `span` of it, this is the straight
 * line between the first sample below the level and the one before. Otherwise
 * noise would make the first sample below come too early, so the place is
 * found where the mean over half the span falls below the level, and then
 * refined as the root of a quadratic fitted over `span` on either side, centred
 * on the root. With a span of half a standard deviation the root on a
 * noise-free Gaussian is right to 0.0005 standard deviations at 50, 10 and 5 %.
 *
 * @param stretch - The curve.
 * @param start - Where to start, above the level.
 * @param span - Half the width of the local fit.
 * @returns The crossing, or nothing when the curve stays above the level up to
 *   its end: it is never extrapolated.
 */
export function crossOutward(
  stretch: Stretch,
  start: number,
  level: number,
  side: 1 | -1,
  span: number,
): Crossing | undefined {
  const { time, value, length } = stretch;
  const step = side;
  const stop = side === 1 ? length : -1;
  const from = side === 1 ? firstEntryFrom(stretch, start) : lastEntryTo(stretch, start);
  const half = span / 2;
  // Means over a window of `span` that moves outward: `inner` and `outer` are its two ends.
  let inner = from;
  while (inner - step >= 0 && inner - step < length && side * (start - time[inner - step]!) <= half) inner -= step;
  let outer = inner;
  let sum = 0;
  let count = 0;
  let found = -1;
  for (let i = from; i !== stop; i += step) {
    const here = time[i]!;
    while (outer !== stop && side * (time[outer]! - here) <= half) {
      sum += value[outer]!;
      count++;
      outer += step;
    }
    while (side * (here - time[inner]!) > half) {
      sum -= value[inner]!;
      count--;
      inner += step;
    }
    if (sum < level * count) {
      found = i;
      break;
    }
  }
  if (found < 0) {
    // The window reaches over the end; the end itself may still lie below.
    const end = stop - step;
    if (from === stop || !(value[end]! <= level)) return undefined;
    let i = end;
    while (i !== from && value[i - step]! <= level) i -= step;
    return between(stretch, i, i - step, level);
  }
  const centre = refine(stretch, time[found]!, level, side, span);
  return centre ?? firstBelow(stretch, from, stop, step, level);
}

/** Root of the quadratic fitted around itself; nothing when too few points or no falling root. */
function refine(stretch: Stretch, initial: number, level: number, side: 1 | -1, span: number): Crossing | undefined {
  const { time, value, length, fit } = stretch;
  const low = time[0]!;
  const high = time[length - 1]!;
  let centre = initial;
  let points = 0;
  for (let pass = 0; pass < 6; pass++) {
    const first = firstEntryFrom(stretch, centre - span);
    const last = lastEntryTo(stretch, centre + span);
    points = last - first + 1;
    if (points < fewestPoints || !fitLocalPolynomial(time, value, first, last, centre, span, 2, fit)) return undefined;
    const above = fit[0]! - level;
    const slope = fit[1]!;
    const inside = slope * slope - 4 * fit[2]! * above;
    if (!(side * slope < 0) || inside < 0) return undefined;
    const root = (-2 * above) / (slope - side * Math.sqrt(inside));
    const move = Math.max(-1, Math.min(1, root));
    centre = Math.max(low, Math.min(high, centre + move * span));
    if (Math.abs(move) < 0.002) break;
    // A root that keeps running away has no place of its own near here.
    if (pass === 5 && Math.abs(move) >= 1) return undefined;
  }
  return { time: centre, method: 'local fit', points };
}

/** First sample below the level and the one before, joined by a straight line. */
function firstBelow(stretch: Stretch, from: number, stop: number, step: number, level: number): Crossing | undefined {
  for (let i = from; i !== stop; i += step) {
    if (stretch.value[i]! <= level) return between(stretch, i, i - step, level);
  }
  return undefined;
}

function between(stretch: Stretch, below: number, above: number, level: number): Crossing | undefined {
  const { time, value, length } = stretch;
  if (above < 0 || above >= length) return undefined;
  const fall = value[above]! - value[below]!;
  if (!(fall > 0)) return undefined;
  const part = (value[above]! - level) / fall;
  return { time: time[above]! + part * (time[below]! - time[above]!), method: 'two samples', points: 2 };
}

/**
 * Time a curve spends above a level between two positions, straight between
 * its points. On a flank that falls all the way this is the distance to the
 * crossing; noise adds about as much as it takes away.
 */
export function timeAbove(stretch: Stretch, from: number, to: number, level: number): number {
  const { time, value, length } = stretch;
  let sum = 0;
  const first = Math.max(1, firstEntryFrom(stretch, from));
  for (let i = first; i < length && time[i - 1]! < to; i++) {
    const t0 = Math.max(from, time[i - 1]!);
    const t1 = Math.min(to, time[i]!);
    if (!(t1 > t0)) continue;
    const a = value[i - 1]! - level;
    const b = value[i]! - level;
    if (a >= 0 && b >= 0) sum += t1 - t0;
    else if (a > 0) sum += ((t1 - t0) * a) / (a - b);
    else if (b > 0) sum += ((t1 - t0) * b) / (b - a);
  }
  return sum;
}
