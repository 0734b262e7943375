import type { Workspace } from '../numeric/index.js';
import {
  centreOf,
  meanLength,
  noiseAt,
  touchesGap,
  worstNoiseAt,
  type Pyramid,
  type ScaleNoise,
} from '../signal/index.js';
import { findTurningPoints } from './turning-points.js';

/**
 * An extreme of the signal that stands out of the noise at some coarseness.
 */
export interface Extremum {
  /** 1 for a maximum, -1 for a minimum. */
  readonly sign: 1 | -1;
  /** Level of the pyramid at which it was first seen. */
  readonly level: number;
  /** [min] Its place. */
  readonly at: number;
  /** [signal unit] Signal there, at that coarseness. */
  readonly value: number;
  /** [min] The turning points beside it. */
  readonly before: number;
  readonly after: number;
  /** [signal unit] How far it stands above the higher of the two (below the lower for a minimum). */
  readonly prominence: number;
  /** [min] Full width at half height of a Gaussian like it; see {@link ownWidth}. */
  readonly width: number;
  /** [-] Prominence over the largest curvature noise between its level and its width. */
  readonly significance: number;
  /** Whether it lies at an end of the record, with one side only. */
  readonly atEnd: boolean;
}

/**
 * Finds extremes at every coarseness, fine to coarse: a coarse one counts only
 * if no finer one of its sign lies between its own turning points, so that
 * shallow valleys are kept where the noise allows and weak broad peaks are found where
 * only averaging shows them. Those for which `counts` does not hold are passed over.
 */
export function findExtrema(
  pyramid: Pyramid,
  noise: ScaleNoise,
  leastSignificance: number,
  workspace: Workspace,
  counts?: (e: Extremum) => boolean,
): Extremum[] {
  let found: Extremum[] = [];
  for (let level = 0; level < pyramid.levels.length; level++) {
    const fresh = extremaOfLevel(pyramid, noise, level, leastSignificance, workspace);
    const kept = fresh.filter((e) => !holdsOneOf(found, e) && (counts === undefined || counts(e)));
    if (kept.length > 0) found = [...found, ...kept].sort((a, b) => a.at - b.at);
  }
  return found;
}

/** Whether one of the extremes, in order of time, has the same sign and lies between the turning points of another. */
function holdsOneOf(found: readonly Extremum[], e: Extremum): boolean {
  let low = 0;
  let high = found.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (found[middle]!.at < e.before) low = middle + 1;
    else high = middle;
  }
  for (let i = low; i < found.length && found[i]!.at <= e.after; i++) if (found[i]!.sign === e.sign) return true;
  return false;
}

/** The significant extremes of one level. */
function extremaOfLevel(
  pyramid: Pyramid,
  noise: ScaleNoise,
  level: number,
  leastSignificance: number,
  workspace: Workspace,
): Extremum[] {
  const values = pyramid.levels[level]!;
  const n = values.length;
  const pieces = Math.min(64, n);
  const stretch = Math.ceil(n / pieces);
  const thresholds = workspace.take('turning thresholds', pieces);
  for (let k = 0; k < pieces; k++) {
    thresholds[k] = leastSignificance * noiseAt(noise, level, ((k + 0.5) * stretch) / n);
  }
  const { index, firstIsMaximum } = findTurningPoints(values, thresholds, stretch);
  const points = simplify(values, index, (from, to, size) => {
    // The fluctuation that matters for a swing is the one at the pace of the swing itself.
    const width = swingWidth(values, from, to);
    return size < leastSignificance * worstNoise(noise, level, width, (from + to) / (2 * n));
  });
  const result: Extremum[] = [];
  for (let p = 0; p < points.length; p++) {
    const at = points[p]!.index;
    const sign = (points[p]!.order % 2 === 0) === firstIsMaximum ? 1 : -1;
    // Beyond the first and the last turning point the lowest value to the end of the record stands in.
    const left = p > 0 ? points[p - 1]!.index : lowest(values, 0, at, sign);
    const right = p + 1 < points.length ? points[p + 1]!.index : lowest(values, at, n - 1, sign);
    const value = values[at]!;
    const rise = at === 0 ? Infinity : sign * (value - values[left]!);
    const fall = at === n - 1 ? Infinity : sign * (value - values[right]!);
    const prominence = Math.min(rise, fall);
    const width = ownWidth(values, at, left, right, sign, prominence, noiseAt(noise, level, at / n));
    const scale = worstNoise(noise, level, width, at / n);
    const significance = prominence / (scale > 0 ? scale : Number.MIN_VALUE);
    // Nothing was recorded there: what the line across a gap does is not the signal's.
    if (significance < leastSignificance || (pyramid.gaps.length > 0 && touchesGap(pyramid, level, at, at))) continue;
    result.push({
      sign,
      level,
      at: centreOf(pyramid, level, at),
      value,
      // One at an end speaks for all that lie beyond it at other coarseness.
      before: at === 0 ? pyramid.start : centreOf(pyramid, level, left),
      after: at === n - 1 ? pyramid.start + pyramid.step * pyramid.levels[0]!.length : centreOf(pyramid, level, right),
      prominence,
      width: width * meanLength(pyramid, level),
      significance: Math.min(significance, 1e12),
      atEnd: at === 0 || at === n - 1,
    });
  }
  return result;
}

/** Index of the lowest value (highest for a minimum) of a stretch, ends included. */
function lowest(values: Float64Array, from: number, to: number, sign: 1 | -1): number {
  let best = from;
  for (let i = from; i <= to; i++) if (sign * (values[i]! - values[best]!) < 0) best = i;
  return best;
}

/**
 * Shares of the prominence at which a width is taken, and the width of a Gaussian
 * at half its height over that at each share down from its top.
 */
const shares = [0.04, 0.1, 0.25, 0.5] as const;
const factors = [4.1211, 2.5652, 1.5522, 1] as const;
/** [-] A share of the prominence over the noise below which the width there says nothing. */
const clearOfNoise = 6;

/**
 * Width at half height of an extreme, in points: the least that several depths
 * give, each for a Gaussian. A dip at the foot of a large peak has a prominence
 * that is mostly the peak's; near its bottom it is as narrow as it is.
 */
function ownWidth(
  values: Float64Array,
  at: number,
  left: number,
  right: number,
  sign: 1 | -1,
  prominence: number,
  noise: number,
): number {
  let least = Infinity;
  let a = at;
  let b = at;
  for (let k = 0; k < shares.length; k++) {
    const share = shares[k]!;
    if (share < 0.5 && share * prominence < clearOfNoise * noise) continue;
    const level = sign * values[at]! - share * prominence;
    while (a > left && sign * values[a]! > level) a--;
    while (b < right && sign * values[b]! > level) b++;
    least = Math.min(least, Math.max(1, b - a - 1) * factors[k]!);
  }
  return least;
}

/** Twice the shorter of the two times from the ends of a swing to its middle height, in points. */
function swingWidth(values: Float64Array, from: number, to: number): number {
  const middle = 0.5 * (values[from]! + values[to]!);
  const rising = values[to]! > values[from]!;
  let a = 1;
  while (from + a < to && values[from + a]! > middle !== rising) a++;
  let b = 1;
  while (to - b > from && values[to - b]! < middle !== rising) b++;
  return 2 * Math.min(a, b);
}

/** [signal unit] Largest curvature noise from a level up to that of half a width (in means of the level). */
function worstNoise(noise: ScaleNoise, level: number, width: number, place: number): number {
  let coarsest = level;
  for (let box = 1; box * 4 <= width; box *= 2) coarsest++;
  return worstNoiseAt(noise, level, coarsest, place);
}

/**
 * Takes out pairs of neighbours whose swing is too small for its own pace: in
 * every round those that are smaller than the swings on both sides, until none
 * is left.
 */
function simplify(
  values: Float64Array,
  index: readonly number[],
  tooSmall: (from: number, to: number, size: number) => boolean,
): { index: number; order: number }[] {
  let points = index.map((at, order) => ({ index: at, order }));
  for (;;) {
    const last = points.length - 1;
    const size = (p: number) =>
      p < 0 || p >= last ? Infinity : Math.abs(values[points[p + 1]!.index]! - values[points[p]!.index]!);
    const kept: typeof points = [];
    let p = 0;
    while (p <= last) {
      const own = size(p);
      const local = own < Infinity && own <= size(p - 1) && own < size(p + 1);
      if (!local || !tooSmall(points[p]!.index, points[p + 1]!.index, own)) {
        kept.push(points[p++]!);
        continue;
      }
      // At an end only the end point goes; its neighbour becomes the new end.
      if (p === 0) kept.push(points[1]!);
      else if (p + 1 === last) kept.push(points[p]!);
      p += 2;
    }
    if (kept.length === points.length) return points;
    points = kept;
  }
}
