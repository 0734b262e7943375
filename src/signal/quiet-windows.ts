import { quantileInPlace } from '../numeric/index.js';

/** Number of curvatures in a window, and what white noise gives there. */
interface WindowKind {
  /** Curvatures in a window. */
  readonly length: number;
  /** [-] Standard deviation of a window's figure over its mean. */
  readonly spread: number;
  /** [-] What {@link quietMean} gives of the mean. */
  readonly kept: number;
}

/** Long windows where the means are fine, short ones that fit between peaks where they are coarse. */
const long: WindowKind = { length: 16, spread: 0.488, kept: 0.9454 };
const short: WindowKind = { length: 8, spread: 0.692, kept: 0.8753 };

/** The windows for a level of the pyramid. */
export function windowsOf(level: number): WindowKind {
  return level === 0 ? long : short;
}

/** [-] A window more spreads above the mean than this is not noise alone. */
const clip = 2.5;
/** [-] Where the search for the mean starts: this share of windows is taken to be free of peaks. */
const start = 0.05;

/**
 * Mean of the figures of the windows that hold noise alone: beginning at a low
 * quantile, the mean of all figures that noise of that mean could give, until it
 * no longer changes. It ends on the lowest cluster of figures, so that it does
 * not matter how many windows hold peaks or how high those are, as long as a
 * twentieth holds none. The bias of leaving out the highest is taken off; for white
 * noise it was found by simulation of this very procedure.
 *
 * @param figures - Reordered.
 * @param count - How many of them count, at least 1.
 *
 * @returns The mean, and the share of windows that were taken.
 */
export function quietMean(
  figures: Float64Array,
  count: number,
  kind: WindowKind,
): { readonly mean: number; readonly share: number; readonly limit: number } {
  let mean = quantileInPlace(figures, count, start);
  let limit = mean;
  let taken = 1;
  for (let round = 0; round < 60; round++) {
    limit = mean * (1 + clip * kind.spread);
    let sum = 0;
    taken = 0;
    for (let i = 0; i < count; i++) {
      if (figures[i]! > limit) continue;
      sum += figures[i]!;
      taken++;
    }
    const next = sum / Math.max(taken, 1);
    if (next <= mean * (1 + 1e-9)) break;
    mean = next;
  }
  return { mean: mean / kind.kept, share: taken / count, limit };
}

/**
 * Mean square of the curvatures R = m[i] - (m[i-1] + m[i+1]) / 2 of a window about
 * their straight line. Of noise the line takes next to nothing, because the sum
 * of its curvatures telescopes; of a peak, whose curvature changes slowly, it
 * takes nearly all.
 */
export function windowFigure(means: Float64Array, from: number, length: number): number {
  let squares = 0;
  let sum = 0;
  let moment = 0;
  const middle = 0.5 * (length - 1);
  for (let k = 0; k < length; k++) {
    const i = from + k;
    const r = means[i]! - 0.5 * (means[i - 1]! + means[i + 1]!);
    squares += r * r;
    sum += r;
    moment += (k - middle) * r;
  }
  const spread = (length * (length * length - 1)) / 12;
  const left = squares - (sum * sum) / length - (moment * moment) / spread;
  return left > 0 ? left / length : 0;
}
