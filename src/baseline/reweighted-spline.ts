import { penalisedWork, solvePenalised } from '../numeric/index.js';
import type { LevelFit } from './level-fit.js';

/** How {@link reweightedSpline} ended. */
export interface ReweightedFit extends LevelFit {
  /** [-] Weight of each point at the end, from 0 to what was given. */
  readonly weight: Float64Array;
  /** [signal unit] Standard deviation of the points about it, by their weights. */
  readonly scatter: number;
  /** [-] Variance of each level over that of a point. */
  readonly inverse: Float64Array;
}

/**
 * Lays a stiff line through all points, weighs them anew by where they lie about
 * it, and so on until the weights rest.
 *
 * @param reweigh - Changes the weights for a level, unless it is the last round, and says whether they rest.
 */
export function reweightedSpline(
  y: Float64Array,
  given: Float64Array,
  stiffness: number,
  mostRounds: number,
  reweigh: (level: Float64Array, weight: Float64Array, isLast: boolean) => boolean,
): ReweightedFit {
  const n = y.length;
  const work = penalisedWork(n);
  const joined = new Float64Array(n).fill(1);
  const level = new Float64Array(n);
  const weight = given.slice();
  let rounds = 0;
  let settled = false;
  while (!settled && rounds < mostRounds) {
    solvePenalised(y, weight, joined, n, stiffness, 0, level, work);
    rounds++;
    settled = reweigh(level, weight, rounds === mostRounds);
  }
  const sum = weight.reduce((total, w) => total + w, 0);
  const squares = weight.reduce((total, w, i) => total + w * (y[i]! - level[i]!) * (y[i]! - level[i]!), 0);
  const scatter = sum > 0 ? Math.sqrt(squares / sum) : 0;
  return { level, weight, scatter, inverse: work.inverse, rounds, settled };
}
