import { liftStretch, polylineAt, type Polyline, type Stretch } from './stretch.js';

/** Half width at half height of a Gaussian over its standard deviation, sqrt(2 ln 2). */
export const halfWidthOfSigma = 1.1774100225154747;
/** Blocks per standard deviation below which averaging in blocks would be felt. */
const fewestBlocks = 30;

/** A peak and the widths of its two flanks. */
export interface LiftedPeak {
  /** All of it. */
  readonly whole: Stretch;
  /** As much of it around the apex as can be had in blocks that are fine enough. */
  readonly near: Stretch;
  /** Standard deviation of the front flank. */
  readonly front: number;
  /** Standard deviation of the back flank. */
  readonly back: number;
}

/**
 * Lifts a peak off its base and takes the standard deviation of either flank
 * from the time it spends above half height; looks again close by, in finer
 * blocks, while the blocks are too coarse for it.
 *
 * @param at - The apex, about.
 * @param height - Height of the peak; when absent, that of the sample at `at`.
 */
export function liftPeak(
  time: Float64Array,
  signal: Float64Array,
  base: Polyline,
  from: number,
  to: number,
  sign: 1 | -1,
  at: number,
  height?: number,
): LiftedPeak {
  const whole = liftStretch(time, signal, base, from, to, sign);
  let near = whole;
  for (let pass = 0; ; pass++) {
    const { front, back } = flankSigmas(near, at, height);
    const spacing = (near.time.at(-1)! - near.time[0]!) / near.time.length;
    if (near.block === 1 || pass === 3 || Math.min(front, back) > fewestBlocks * spacing) {
      return { whole, near, front, back };
    }
    const reach = 8 * Math.max(front, back, spacing);
    near = liftStretch(time, signal, base, Math.max(from, at - reach), Math.min(to, at + reach), sign);
  }
}

/**
 * Standard deviations of the flanks of a peak, from the time it spends above
 * half height on either side, straight between its points. On a flank that falls
 * all the way this is the distance to the crossing; noise adds about as much as
 * it takes away.
 */
export function flankSigmas(curve: Polyline, at: number, height?: number): { front: number; back: number } {
  const { time, value } = curve;
  const half = (height ?? polylineAt(curve, at)) / 2;
  let front = 0;
  let back = 0;
  for (let i = 1; i < time.length; i++) {
    const a = value[i - 1]! - half;
    const b = value[i]! - half;
    if (a <= 0 && b <= 0) continue;
    const from = time[i - 1]!;
    const to = time[i]!;
    const share = (Math.max(a, 0) + Math.max(b, 0)) / (Math.abs(a) + Math.abs(b)) / halfWidthOfSigma;
    front += share * Math.max(0, Math.min(to, at) - from);
    back += share * Math.max(0, to - Math.max(from, at));
  }
  return { front, back };
}
