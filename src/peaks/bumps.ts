import { baselineAt, type Baseline } from '../baseline/index.js';
import { centreOf, indexAt, noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';
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
/** Curvature noise of white noise over its standard deviation, sqrt(1.5). */
const curvatureFactor = 1.224744871391589;
/** [sigma] An apex so close to an end of the record is cut off there. */
const nearEnd = 3;
/** [sigma] No flank is followed further than this. */
const furthest = 40;

/** Measures an extreme against the baseline; nothing when it does not stand off on its own side. */
export function measureBump(e: Extremum, pyramid: Pyramid, noise: ScaleNoise, baseline: Baseline): Bump | undefined {
  const above = (level: number, i: number) =>
    e.sign * (pyramid.levels[level]![i]! - baselineAt(baseline, centreOf(pyramid, level, i)));
  let level = e.level;
  while (level + 1 < pyramid.levels.length && pyramid.step * 2 ** (level + 1) <= e.width / 5) level++;
  let top = indexAt(pyramid, level, e.at);
  let height = above(level, top);
  for (const i of [top - 1, top + 1]) {
    if (i >= 0 && i < pyramid.levels[level]!.length && above(level, i) > height) {
      height = above(level, i);
      top = i;
    }
  }
  if (!(height > 0)) return undefined;
  const bin = pyramid.step * 2 ** level;
  const n = pyramid.levels[level]!.length;
  // The baseline wanders at every pace up to the width of the peak: within that, it has been reached.
  const levels = [level];
  while (levels.at(-1)! + 1 < pyramid.levels.length && pyramid.step * 2 ** (levels.at(-1)! + 1) <= 0.9 * e.width) {
    levels.push(levels.at(-1)! + 1);
  }
  const reach = (place: number) => Math.max(...levels.map((l) => noiseAt(noise, l, place))) / curvatureFactor;
  const perSigma = Math.max(1, Math.round(e.width / 2.354820045030949 / bin));
  const side = (direction: 1 | -1): { half: number | undefined; end: number; toBaseline: boolean } => {
    const stop = direction < 0 ? e.before : e.after;
    let half: number | undefined;
    let previous = height;
    let slow = 0;
    let i = top;
    const most = Math.ceil((furthest * e.width) / 2.355 / bin);
    for (let k = 1; k <= most; k++) {
      i += direction;
      if (i < 0 || i >= n) return { half, end: centreOf(pyramid, level, i - direction), toBaseline: false };
      const r = above(level, i);
      if (half === undefined && r < height / 2) {
        half = Math.abs(i - direction - top) * bin + (bin * (previous - height / 2)) / Math.max(previous - r, 1e-300);
      }
      const s = reach(i / n);
      if (r < arrived * s) {
        const part = Math.min(1, Math.max(0, (previous - arrived * s) / Math.max(previous - r, 1e-300)));
        return {
          half,
          end: centreOf(pyramid, level, i - direction) + direction * part * bin,
          toBaseline: true,
        };
      }
      if (r < 0.02 * height) {
        const far = i + 4 * direction;
        if (far < 0 || far >= n || r - above(level, far) < 1.5 * s) {
          return { half, end: centreOf(pyramid, level, i), toBaseline: true };
        }
      }
      if (r < 0.25 * height) {
        const far = i + perSigma * direction;
        if (far >= 0 && far < n && above(level, far) > leastDecay * r && above(level, far) < 1.3 * r) slow++;
        else slow = 0;
        if (slow >= perSigma) {
          const end = centreOf(pyramid, level, i - direction * perSigma);
          return { half, end, toBaseline: true };
        }
      }
      const t = centreOf(pyramid, level, i);
      if (direction * (t - stop) >= 0) return { half, end: stop, toBaseline: false };
      previous = r;
    }
    return { half, end: centreOf(pyramid, level, i), toBaseline: true };
  };
  const left = side(-1);
  const right = side(1);
  const halves = [left.half, right.half].filter((h) => h !== undefined);
  const width = halves.length === 2 ? halves[0]! + halves[1]! : halves.length === 1 ? 2 * halves[0]! : e.width;
  const sigma = Math.max(width / 2.354820045030949, 0.4 * pyramid.step);
  const at = centreOf(pyramid, level, top);
  const end = pyramid.start + pyramid.step * (pyramid.levels[0]!.length - 1);
  return {
    extremum: e,
    sign: e.sign,
    at,
    height,
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
