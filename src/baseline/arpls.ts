import { exp } from '../numeric/index.js';
import type { Interval } from './block-means.js';
import { reweightedSpline, type ReweightedFit } from './reweighted-spline.js';

/**
 * Options of {@link estimateBaseline} with `kind: 'arpls'`.
 *
 * @public
 */
export interface ArplsOptions {
  /** Asymmetrically reweighted penalised least squares. */
  readonly kind: 'arpls';
  /**
   * Stretches that have no say. They may overlap and reach beyond the record.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [min] Stiffness: a wave of 2 pi times this is followed by half, a shorter one less, a longer one
   * more. Lambda is (this / distance of two means)⁴. Automatic: a twentieth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly sharpestBend?: number | 'automatic' | undefined;
}

export const arplsDefaults = { kind: 'arpls', avoid: [], sharpestBend: 'automatic' } as const;

/**
 * Asymmetrically reweighted penalised least squares: a stiff line is laid through all
 * points; those that lie above it by more than its scatter below lose their
 * weight by a logistic function; and so on until the weights rest.
 *
 * With d = y - z, m and s the mean and standard deviation of the negative d:
 * w = 1 / (1 + exp(2 (d - (2 s - m)) / s)). It ends when the weights change by less
 * than `ratio` of their norm, when fewer than two d are negative, or when s is 0.
 *
 * @param y - N points, equally spaced.
 * @param given - N weights from 0 to 1: 0 for points that have no say; the others scale the weight found.
 * @param stiffness - [-] Lambda, the weight of the squared second differences.
 * @param ratio - [-] Change of the weights that counts as rest.
 * @param mostRounds - When to stop waiting for it.
 *
 * @see S.-J. Baek, A. Park, Y.-J. Ahn, J. Choo, Analyst 140 (2015) 250-257 (from memory)
 */
export function arpls(
  y: Float64Array,
  given: Float64Array,
  stiffness: number,
  ratio: number,
  mostRounds: number,
): ReweightedFit {
  return reweightedSpline(y, given, stiffness, mostRounds, (level, weight) => {
    const below = y.map((value, i) => value - level[i]!).filter((d, i) => d < 0 && given[i]! > 0);
    const mean = below.reduce((sum, d) => sum + d, 0) / below.length;
    const deviation = Math.sqrt(below.reduce((sum, d) => sum + (d - mean) * (d - mean), 0) / (below.length - 1));
    // Also when it is not a number: fewer than two lie below.
    if (!(deviation > 0)) return true;
    const next = given.map((g, i) => g / (1 + exp((2 * (y[i]! - level[i]! - (2 * deviation - mean))) / deviation)));
    const change = next.reduce((sum, w, i) => sum + (w - weight[i]!) * (w - weight[i]!), 0);
    const settled = change <= ratio * ratio * weight.reduce((sum, w) => sum + w * w, 0);
    if (!settled) weight.set(next);
    return settled;
  });
}
