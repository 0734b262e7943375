import { levelWithin, meanLength, noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';

/** [-] Hollow of each flank over the bulge of the top, of a Gaussian in means of one standard deviation. */
export const hollowShare = 0.47;
/** [sigma] Lengths of the means tried, in the order in which they are likely to do. */
const scales = [1, 0.7, 1.3, 0.5, 0.35, 0.25, 0.18, 0.125] as const;
/** [sigma] Places tried; beside a neighbour, on a slope, the one a bump was seen at may be past its top. */
const offsets = [0, -0.4, 0.4] as const;

/** What is looked at. */
export interface Look {
  /** [min] */
  readonly at: number;
  readonly sign: 1 | -1;
  /** [min] */
  readonly sigma: number;
  /** Whether the flank on that side is its own, and counts. */
  readonly before: boolean;
  readonly after: boolean;
}

/**
 * How much a bump is like a peak, in noise: whatever a baseline does, a peak
 * bulges at its top and is hollow on both flanks, further out than one standard
 * deviation; a slope that ends, and the ground where a baseline runs too high or low,
 * are hollow on one side at the most. Seven means side by side give bulge and hollows as second
 * differences, which a straight slope does not reach; the least of the three,
 * as a Gaussian has them, over the noise of such a difference. Of several lengths of the means
 * the first that gives `enough` counts, or the best.
 *
 * @returns [-] 1 is what noise gives; nothing when the record ends too near.
 */
export function likeness(look: Look, pyramid: Pyramid, noise: ScaleNoise, enough: number): number | undefined {
  const { at, sigma, before, after } = look;
  let best: number | undefined;
  for (const offset of before && after ? offsets.slice(0, 1) : offsets) {
    for (const scale of scales) {
      const length = Math.max(scale * sigma, pyramid.step);
      const value = likenessAt(look, at + offset * sigma, length, pyramid, noise);
      if (value !== undefined && (best === undefined || value > best)) best = value;
      if (best !== undefined && best >= enough) return Math.min(best, 1e12);
      if (length === pyramid.step) break;
    }
  }
  return best;
}

/** The same for one place and length of the means. */
function likenessAt(
  { sign, before, after }: Look,
  at: number,
  length: number,
  pyramid: Pyramid,
  noise: ScaleNoise,
): number | undefined {
  const { start, step } = pyramid;
  const count = pyramid.levels[0]!.length;
  const end = start + step * count;
  if (at - start < (before ? 3.5 : 1.5) * length || end - at < (after ? 3.5 : 1.5) * length) return undefined;
  const level = levelWithin(pyramid, 0, length / 4);
  const means = pyramid.levels[level]!;
  const bin = meanLength(pyramid, level);
  const size = length / bin;
  const middle = (at - start + step / 2) / bin;
  const mean = (k: number) => sign * meanBetween(means, middle + (k - 0.5) * size, middle + (k + 0.5) * size);
  const left = mean(-1);
  const right = mean(1);
  let least = mean(0) - (left + right) / 2;
  if (before) least = Math.min(least, ((mean(-3) + left) / 2 - mean(-2)) / hollowShare);
  if (after) least = Math.min(least, ((mean(3) + right) / 2 - mean(2)) / hollowShare);
  const scatter = noiseAt(noise, levelWithin(pyramid, 0, 1.01 * length), (at - start) / (step * count));
  return least / (scatter > 0 ? scatter : Number.MIN_VALUE);
}

/** Mean of means between two places counted in them, parts included. */
function meanBetween(means: Float64Array, from: number, to: number): number {
  const low = Math.max(0, from);
  const high = Math.min(means.length, to);
  let sum = 0;
  for (let i = Math.floor(low); i < high; i++) sum += means[i]! * (Math.min(high, i + 1) - Math.max(low, i));
  return high > low ? sum / (high - low) : 0;
}
