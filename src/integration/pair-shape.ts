import { liftStretch, locateApex, polylineAt } from '../numeric/index.js';
import { emg, emgFromApex, emgMode, type EmgShape } from '../shapes/index.js';
import type { Baseline } from '../baseline/index.js';
import type { Trace } from '../trace/index.js';
import { emgOfHalves } from './emg-halves.js';
import type { PlannedPeak } from './plan.js';

/** Two neighbours as curves, for questions about their divider. */
export interface EmgPair {
  /** In order of time, upright. */
  readonly curves: readonly [EmgShape, EmgShape];
  /** Which of them is the smaller. */
  readonly smaller: 0 | 1;
}

/** [-] Height at which widths are taken, if the valleys leave it free; and how far above the valleys otherwise. */
const lowest = 0.1;
const overValley = 1.15;
/** [-] Widths of what is left beside the larger peak that differ more than this from its own are not believed. */
const mostDifferent = 2.5;
const passes = 30;
/** Half width of a Gaussian at 0.6 of its height, in standard deviations: sqrt(-2 ln 0.6). */
const rootOf = 1.0107676525947897;
/** [-] Change of both areas from a pass to the next that counts as none. */
const settled = 5e-5;

/**
 * Two exponentially modified Gaussians with the found heights, distance, widths
 * and tailing of two neighbours. The larger is taken from its halves at a tenth of
 * its height, or just above its valleys; the smaller likewise from what is left
 * beside the larger, or with the shape of the larger when that leaves nothing
 * sensible; then the larger again from what is left beside the smaller.
 *
 * @param left - The earlier; it ends where the later begins.
 * @returns Nothing when one has no height left.
 */
export function pairOf(
  trace: Pick<Trace, 'time' | 'signal'>,
  base: Baseline,
  left: PlannedPeak,
  right: PlannedPeak,
): EmgPair | undefined {
  const sign = left.direction === 'up' ? 1 : -1;
  const { time, value } = liftStretch(trace.time, trace.signal, base, left.start, right.end, sign);
  const peaks = [left, right] as const;
  const curves: (EmgShape | undefined)[] = [undefined, undefined];
  const whole = { time, value };
  const smaller = polylineAt(whole, right.apex) < polylineAt(whole, left.apex) ? 1 : 0;
  for (let pass = 0; pass < passes; pass++) {
    let change = 0;
    for (const i of smaller === 1 ? ([0, 1] as const) : ([1, 0] as const)) {
      const other = curves[1 - i];
      const rest = other ? { time, value: value.map((y, k) => y - valueAt(time[k]!, other)) } : whole;
      const curve = curveOf(rest, peaks[i], i === smaller ? other : undefined);
      if (curve === undefined) return undefined;
      change = Math.max(change, Math.abs(curve.area / (curves[i]?.area ?? Infinity) - 1));
      curves[i] = curve;
    }
    if (change < settled) break;
  }
  const [a, b] = curves;
  return a && b && { curves: [a, b], smaller: heightOf(b) < heightOf(a) ? 1 : 0 };
}

/** A curve by its points. */
interface Samples {
  readonly time: Float64Array;
  readonly value: Float64Array;
}

/** Value of a curve; nothing where it has died away. */
function valueAt(t: number, curve: EmgShape): number {
  const { mean, sigma, tau } = curve;
  const far = 9 * sigma + 40 * Math.abs(tau);
  return Math.abs(t - mean) > far ? 0 : emg(t, curve);
}

/** One peak as a curve; with the shape of `like` when it shows none of its own. */
function curveOf(
  curve: Samples,
  { start, end, apex: seenApex }: PlannedPeak,
  like: EmgShape | undefined,
): EmgShape | undefined {
  const about = polylineAt(curve, seenApex);
  const rough = timeAbove(curve, seenApex, 0.6 * about, start, end);
  const width = Math.min(...[rough.front, rough.back].filter((w) => w > 0));
  if (!(about > 0 && Number.isFinite(width))) return undefined;
  const { time: apex, height } = locateApex(curve.time, curve.value, {
    approx: seenApex,
    start,
    end,
    sign: 1,
    sigma: width / rootOf,
  });
  if (!(apex > start && apex < end)) return undefined;
  const valleys = Math.max(polylineAt(curve, start), polylineAt(curve, end)) / height;
  const part = Math.max(lowest, overValley * valleys);
  const { front, back } = timeAbove(curve, apex, part * height, start, end);
  if (!(height > 0)) return undefined;
  if (part < 0.8 && front > 0 && back > 0) {
    const shape = emgOfHalves(front, back, part);
    const ratio = like === undefined ? 1 : spread(shape) / spread(like);
    if (ratio < mostDifferent && ratio > 1 / mostDifferent) return emgFromApex({ position: apex, height, ...shape });
  }
  if (like !== undefined) return emgFromApex({ position: apex, height, sigma: like.sigma, tau: like.tau });
  // The larger of two that are hardly parted: a Gaussian as narrow as it is on its free side.
  return emgFromApex({ position: apex, height, sigma: width / rootOf, tau: 0 });
}

function spread({ sigma, tau }: Pick<EmgShape, 'sigma' | 'tau'>): number {
  return Math.sqrt(sigma * sigma + tau * tau);
}

/** [signal unit] Height of a curve at its apex. */
export function heightOf(curve: EmgShape): number {
  return emg(emgMode(curve), curve);
}

/** [min] Time that a curve spends above a level on either side of a place, within limits. */
function timeAbove(
  { time, value }: Samples,
  at: number,
  level: number,
  start: number,
  end: number,
): { readonly front: number; readonly back: number } {
  let front = 0;
  let back = 0;
  for (let i = 1; i < time.length; i++) {
    const [from, to] = [Math.max(time[i - 1]!, start), Math.min(time[i]!, end)];
    const [a, b] = [value[i - 1]! - level, value[i]! - level];
    if (!(to > from) || (a <= 0 && b <= 0)) continue;
    const share = (Math.max(a, 0) + Math.max(b, 0)) / (Math.abs(a) + Math.abs(b));
    front += share * Math.max(0, Math.min(to, at) - from);
    back += share * Math.max(0, to - Math.max(from, at));
  }
  return { front, back };
}
