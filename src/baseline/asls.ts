import type { Interval } from './block-means.js';
import { reweightedSpline, type ReweightedFit } from './reweighted-spline.js';

/**
 * Options of {@link estimateBaseline} with `kind: 'asls'`.
 *
 * @public
 */
export interface AslsOptions {
  /** Asymmetric least squares. */
  readonly kind: 'asls';
  /**
   * Stretches that have no say. They may overlap and reach beyond the record.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [min] Stiffness, as with `'arpls'`: lambda is (this / distance of two means)⁴. Automatic: a twentieth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly sharpestBend?: number | 'automatic' | undefined;
  /**
   * [-] Weight of what lies above the line, above 0 and at most 0.5; what lies below weighs 1 less this. Usual: 0.001 to 0.1.
   *
   * @defaultValue 0.001
   */
  readonly asymmetry?: number | undefined;
}

export const aslsDefaults = { kind: 'asls', avoid: [], sharpestBend: 'automatic', asymmetry: 0.001 } as const;

/**
 * Asymmetric least squares: a stiff line through all points, those above it
 * with weight p, those below with 1 - p, laid again until no point changes
 * sides. It starts with equal weights.
 *
 * @param y - N points, equally spaced.
 * @param given - N weights from 0 to 1 that scale those.
 * @param stiffness - [-] Lambda, the weight of the squared second differences.
 * @param asymmetry - [-] p.
 * @param mostRounds - When to stop; 10 in the publication.
 *
 * @see P. H. C. Eilers, H. F. M. Boelens, Baseline correction with asymmetric least squares smoothing, Leiden University
 *   Medical Centre report (2005) (from memory)
 */
export function asls(
  y: Float64Array,
  given: Float64Array,
  stiffness: number,
  asymmetry: number,
  mostRounds: number,
): ReweightedFit {
  return reweightedSpline(y, given, stiffness, mostRounds, (level, weight, isLast) => {
    let settled = true;
    for (let i = 0; i < y.length; i++) {
      const next = given[i]! * (y[i]! > level[i]! ? asymmetry : 1 - asymmetry);
      if (next === weight[i]) continue;
      settled = false;
      if (!isLast) weight[i] = next;
    }
    return settled;
  });
}
