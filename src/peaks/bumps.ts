import type { Baseline } from '../baseline/index.js';
import { firstAtOrAfter, nextAtOrAfter, pieceAt } from '../numeric/index.js';
import {
  centreOf,
  curvatureFactor,
  indexAt,
  levelWithin,
  meanLength,
  worstNoiseAt,
  type Pyramid,
  type ScaleNoise,
} from '../signal/index.js';
import type { Extremum } from './extrema.js';

/**
 * An extreme seen against a baseline: how high, how wide, how far it reaches.
 */
export interface Bump {
  readonly extremum: Extremum;
  readonly sign: 1 | -1;
  /** [min] Its place. */
  readonly at: number;
  /** [signal unit] Height above the baseline, counted in its own direction. */
  readonly height: number;
  /** [min] Standard deviation of a Gaussian as wide at half height (from the steeper side when the other is covered). */
  readonly sigma: number;
  /** [min] Where it has come down to the baseline, or where the trace or a neighbour of equal direction stops it. */
  readonly from: number;
  readonly to: number;
  /** Whether it came down to the baseline on that side. */
  readonly fromBaseline: boolean;
  readonly toBaseline: boolean;
  /** Whether it came down to half its height on that side. */
  readonly fromHalf: boolean;
  readonly toHalf: boolean;
  /** Whether the record ends on that side before it could come down. */
  readonly cutBefore: boolean;
  readonly cutAfter: boolean;
}

/** [-] Mean over noise below which a flank has arrived at the baseline. */
const arrived = 1.2;
/** [-] Height left after one more standard deviation above which a flank has stopped falling: no tail is that slow. */
const leastDecay = 0.85;
/** Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;
/** [sigma] An apex so close to an end of the record is cut off there. */
const nearEnd = 3;
/** [sigma] No flank is followed further than this. */
const furthest = 40;

/** An extreme seen against a baseline at the coarseness that fits its width. */
interface View {
  readonly e: Extremum;
  readonly pyramid: Pyramid;
  readonly noise: ScaleNoise;
  readonly baseline: Baseline;
  readonly level: number;
  /** Coarsest level within whose noise the baseline has been reached. */
  readonly slowest: number;
  /** Index of the apex. */
  top: number;
  /** Knot of the baseline at or after the apex, where every search for one begins. */
  readonly knot: number;
  height: number;
}

/** One side of a bump. */
interface Side {
  /** [min] From the apex to half its height, when it comes down so far. */
  readonly half: number | undefined;
  readonly end: number;
  readonly toBaseline: boolean;
}

/** Measures an extreme against the baseline; nothing when it does not stand off on its own side. */
export function measureBump(e: Extremum, pyramid: Pyramid, noise: ScaleNoise, baseline: Baseline): Bump | undefined {
  const view = viewOf(e, pyramid, noise, baseline);
  if (view === undefined) return undefined;
  const left = descend(view, -1);
  const right = descend(view, 1);
  const halves = [left.half, right.half].filter((h) => h !== undefined);
  const width = halves.length === 2 ? halves[0]! + halves[1]! : halves.length === 1 ? 2 * halves[0]! : e.width;
  const sigma = Math.max(width / halfHeightFactor, 0.4 * pyramid.step);
  const at = centreOf(pyramid, view.level, view.top);
  const end = endOf(pyramid);
  return {
    extremum: e,
    sign: e.sign,
    at,
    height: view.height,
    sigma,
    from: left.end,
    to: right.end,
    fromBaseline: left.toBaseline,
    toBaseline: right.toBaseline,
    fromHalf: left.half !== undefined,
    toHalf: right.half !== undefined,
    cutBefore: at - pyramid.start < nearEnd * sigma,
    cutAfter: end - at < nearEnd * sigma,
  };
}

/** [min] Time of the last grid point. */
function endOf(pyramid: Pyramid): number {
  return pyramid.start + pyramid.step * (pyramid.levels[0]!.length - 1);
}

/** Looks at an extreme in means of about a fifth of its width. */
function viewOf(e: Extremum, pyramid: Pyramid, noise: ScaleNoise, baseline: Baseline): View | undefined {
  const level = levelWithin(pyramid, e.level, e.width / 5);
  // The baseline wanders at every pace up to the width of the peak: within that, it has been reached.
  const slowest = levelWithin(pyramid, level, 0.9 * e.width);
  const middle = indexAt(pyramid, level, e.at);
  const knot = firstAtOrAfter(baseline.time, centreOf(pyramid, level, middle));
  const view = { e, pyramid, noise, baseline, level, slowest, top: middle, knot, height: 0 };
  view.height = above(view, middle);
  for (let i = middle - 1; i <= middle + 1; i += 2) {
    const height = i < 0 || i >= pyramid.levels[level]!.length ? 0 : above(view, i);
    if (height > view.height) [view.top, view.height] = [i, height];
  }
  return view.height > 0 ? view : undefined;
}

/** [signal unit] Height of a mean above the baseline, in the direction of the extreme. */
function above({ e, pyramid, baseline, level, knot }: View, i: number): number {
  const t = centreOf(pyramid, level, i);
  return e.sign * (pyramid.levels[level]![i]! - pieceAt(baseline, nextAtOrAfter(baseline.time, t, knot), t));
}

/** Follows one flank down until it meets the baseline, stops falling, or something else begins. */
function descend(view: View, direction: 1 | -1): Side {
  const { e, pyramid, noise, level, slowest, top, height } = view;
  const count = pyramid.levels[level]!.length;
  const bin = meanLength(pyramid, level);
  const stop = direction < 0 ? e.before : e.after;
  const perSigma = Math.max(1, Math.round(e.width / halfHeightFactor / bin));
  const most = Math.ceil((furthest * e.width) / halfHeightFactor / bin);
  const time = (i: number) => centreOf(pyramid, level, i);
  let half: number | undefined;
  let previous = height;
  let slow = 0;
  let i = top;
  for (let k = 1; k <= most; k++) {
    i += direction;
    // The last means end before the record does: what is left of it belongs to the flank.
    if (i < 0) return { half, end: pyramid.start, toBaseline: false };
    if (i >= count) return { half, end: endOf(pyramid), toBaseline: false };
    const r = above(view, i);
    if (half === undefined && r < height / 2) {
      half = (k - 1) * bin + (bin * (previous - height / 2)) / Math.max(previous - r, 1e-300);
    }
    const s = worstNoiseAt(noise, level, slowest, i / count) / curvatureFactor;
    if (r < arrived * s) {
      const part = Math.min(1, Math.max(0, (previous - arrived * s) / Math.max(previous - r, 1e-300)));
      return { half, end: time(i - direction) + direction * part * bin, toBaseline: true };
    }
    const beyond = i + 4 * direction;
    if (r < 0.02 * height && (beyond < 0 || beyond >= count || r - above(view, beyond) < 1.5 * s)) {
      return { half, end: time(i), toBaseline: true };
    }
    if (r < 0.25 * height) {
      const far = i + perSigma * direction;
      const there = far >= 0 && far < count ? above(view, far) : 0;
      slow = there > leastDecay * r && there < 1.3 * r ? slow + 1 : 0;
      if (slow >= perSigma) return { half, end: time(i - direction * perSigma), toBaseline: true };
    }
    if (direction * (time(i) - stop) >= 0) return { half, end: stop, toBaseline: false };
    previous = r;
  }
  return { half, end: time(i), toBaseline: true };
}
