/** What every estimator of the family gives for a row of points. */
export interface LevelFit {
  /** [signal unit] The baseline at each point. */
  readonly level: Float64Array;
  /** Number of times the line was laid. */
  readonly rounds: number;
  /** Whether it came to rest; if not it may still move a little. */
  readonly settled: boolean;
  /** [signal unit] Standard deviation of the points about it, by their weights, when the estimator knows it. */
  readonly scatter?: number;
  /** [-] Variance of each level over that of a point, when the estimator knows it. */
  readonly inverse?: Float64Array;
}

/**
 * The contract of the family: equally spaced points and the say of each, from 0
 * (none: a peak, a gap) to 1, in; a level at every point out. What a setting in
 * minutes means in points is worked out before.
 */
export type LevelEstimator = (y: Float64Array, given: Float64Array) => LevelFit;

/** The points, with those that have no say put on straight lines between their neighbours that have. */
export function bridgePoints(y: Float64Array, given: Float64Array): Float64Array {
  const bridged = y.slice();
  let last = -1;
  for (let i = 0; i <= y.length; i++) {
    if (i < y.length && !(given[i]! > 0)) continue;
    const before = last < 0 ? y[i] : y[last]!;
    const after = i === y.length ? y[last] : y[i]!;
    // Without any point that has a say there is nothing to go by, and the points stay.
    if (before === undefined || after === undefined) return bridged;
    for (let k = last + 1; k < i; k++) bridged[k] = before + ((after - before) * (k - last)) / (i - last);
    last = i;
  }
  return bridged;
}
