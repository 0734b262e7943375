import type { Interval } from './block-means.js';
import { bridgePoints, type LevelFit } from './level-fit.js';

/**
 * Options of {@link estimateBaseline} with `kind: 'polynomial'`.
 *
 * @public
 */
export interface PolynomialBaselineOptions {
  /** A polynomial that is fitted again and again to what it leaves below itself. */
  readonly kind: 'polynomial';
  /**
   * Stretches that have no say. They may overlap and reach beyond the record.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [-] Degree of the polynomial over the whole run, a whole number from 0 to 12.
   *
   * @defaultValue 5
   */
  readonly degree?: number | undefined;
  /**
   * [min] Standard deviation of the narrower peaks: the means it is fitted to are about as long. Automatic: a hundredth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly peakWidth?: number | 'automatic' | undefined;
}

export const polynomialDefaults = { kind: 'polynomial', avoid: [], degree: 5, peakWidth: 'automatic' } as const;

/**
 * Iterative polynomial: fit, lower every point that stands above the fit to it,
 * and fit again, until no level moves by more than `rest` of the range of the
 * points.
 *
 * The polynomial is the sum of those that are orthogonal over the weighted
 * points (G. E. Forsythe, J. Soc. Indust. Appl. Math. 5 (1957) 74-88, from
 * memory), so that no degree is ill-conditioned.
 *
 * @param y - N points, equally spaced.
 * @param given - N weights from 0 to 1.
 * @param degree - [-] Degree; lowered to what the points of weight above 0 determine.
 * @param rest - [-] Movement that counts as rest.
 * @param mostRounds - When to stop waiting for it.
 *
 * @see C. A. Lieber, A. Mahadevan-Jansen, Appl. Spectrosc. 57 (2003) 1363-1367 (from memory)
 */
export function polynomialBaseline(
  y: Float64Array,
  given: Float64Array,
  degree: number,
  rest: number,
  mostRounds: number,
): LevelFit {
  const n = y.length;
  const basis = orthogonalPolynomials(n, given, degree);
  const clipped = bridgePoints(y, given);
  const range = clipped.reduce((a, b) => Math.max(a, b)) - clipped.reduce((a, b) => Math.min(a, b));
  let level = new Float64Array(n);
  let next = new Float64Array(n);
  let rounds = 0;
  let settled = false;
  while (!settled && rounds < mostRounds) {
    next.fill(0);
    for (const p of basis) {
      let share = 0;
      for (let i = 0; i < n; i++) share += given[i]! * p[i]! * clipped[i]!;
      for (let i = 0; i < n; i++) next[i] = next[i]! + share * p[i]!;
    }
    let moved = 0;
    for (let i = 0; i < n; i++) {
      moved = Math.max(moved, Math.abs(next[i]! - level[i]!));
      if (clipped[i]! > next[i]!) clipped[i] = next[i]!;
    }
    [level, next] = [next, level];
    rounds++;
    settled = rounds > 1 && moved <= rest * range;
  }
  return { level, rounds, settled };
}

/** Polynomials of degree 0, 1, 2 ... with sum w p² = 1 and sum w p q = 0, as many as the weighted points determine. */
function orthogonalPolynomials(n: number, w: Float64Array, degree: number): Float64Array[] {
  const basis: Float64Array[] = [];
  const most = Math.min(degree + 1, w.filter((weight) => weight > 0).length);
  for (let k = 0; k < most; k++) {
    const before = basis.at(-1);
    const p = Float64Array.from({ length: n }, (_, i) => (before === undefined ? 1 : ((2 * i) / n - 1) * before[i]!));
    // Twice, because once leaves what rounding put in.
    for (let pass = 0; pass < 2; pass++) {
      for (const q of basis) {
        let share = 0;
        for (let i = 0; i < n; i++) share += w[i]! * p[i]! * q[i]!;
        for (let i = 0; i < n; i++) p[i] = p[i]! - share * q[i]!;
      }
    }
    const norm = Math.sqrt(p.reduce((sum, value, i) => sum + w[i]! * value * value, 0));
    basis.push(p.map((value) => value / norm));
  }
  return basis;
}
