import { log, polylineAt, type Polyline } from '../numeric/index.js';
import { polylineIntegral } from './polyline-integral.js';

/** Where a tail falls most steeply in proportion to what is left of it. */
export interface TailRate {
  /** [1/min] Rate of an exponential decay, away from the apex. */
  readonly rate: number;
  /** [min] Where it was taken. */
  readonly at: number;
}

/** Length of either of the two windows, in standard deviations of the flank, and at the most in distances from apex to valley. */
const windowOf = 0.5;
const mostOfWay = 0.2;
const places = 60;

/**
 * Rate of decay of the tail of a peak in the second half of the way from its apex to
 * a valley: from the means of two windows that follow each other, each half a
 * standard deviation of the flank long (a fifth of the way at the most), which for an
 * exponential decay gives the rate exactly. It is taken where it is largest: towards the apex
 * the top still bends, towards the valley the next peak comes up, and either makes the
 * fall look slower. The first half is left out because a peak with a slow tail falls faster before the tail begins.
 *
 * @param curve - The peak above its baseline.
 * @returns Nothing when it falls nowhere.
 */
export function tailRate(curve: Polyline, apex: number, valley: number, sigma: number): TailRate | undefined {
  const way = Math.abs(valley - apex);
  const away = valley > apex ? 1 : -1;
  const width = Math.min(windowOf * sigma, mostOfWay * way);
  const mean = (t: number): number => {
    const from = Math.min(t, t + away * width);
    return polylineIntegral(curve, from, from + width) / width;
  };
  let best: TailRate | undefined;
  for (let i = 0; i <= places; i++) {
    const t = apex + away * (way / 2 + (i * (way / 2 - 2 * width)) / places);
    const [near, far] = [mean(t), mean(t + away * width)];
    if (!(far > 0 && near > far)) continue;
    const rate = log(near / far) / width;
    if (best === undefined || rate > best.rate) best = { rate, at: t + away * width };
  }
  return best;
}

/** [-] How far the polyline may lie above the exponential, in parts of it. */
const accuracy = 1e-5;
const mostKnots = 600;

/**
 * The exponential decay level · exp(-rate · |t - valley|) on top of a baseline,
 * as a polyline that lies at most 1e-5 of it above (more only where 600 knots are not enough).
 */
export function exponentialLine(
  base: Polyline,
  valley: number,
  end: number,
  decay: (t: number) => number,
  rate: number,
): { readonly time: number[]; readonly value: number[] } {
  // A chord over a length s is at most (rate s)² / 8 above, in parts of the decay.
  const step = Math.sqrt(8 * accuracy) / rate;
  const count = Math.min(mostKnots, Math.max(1, Math.ceil(Math.abs(end - valley) / step)));
  const even = Array.from({ length: count + 1 }, (_, i) => valley + ((end - valley) * i) / count);
  const [from, to] = valley < end ? [valley, end] : [end, valley];
  const bends = Array.from(base.time).filter((t) => t > from && t < to);
  const time = [...new Set([...even, ...bends])].sort((a, b) => a - b);
  return { time, value: time.map((t) => polylineAt(base, t) + decay(t)) };
}
