import { exp, penalisedWork, solvePenalised } from '../numeric/index.js';

/** How {@link arpls} ended. */
export interface ArplsFit {
  /** [signal unit] The baseline at each point. */
  readonly level: Float64Array;
  /** [-] Weight of each point at the end, from 0 to what was given. */
  readonly weight: Float64Array;
  /** [signal unit²] Variance of the points about it, by their weights. */
  readonly variance: number;
  /** [-] Variance of each level over that of a point. */
  readonly inverse: Float64Array;
  /** Number of times the line was laid. */
  readonly rounds: number;
  /** Whether the weights came to rest. */
  readonly settled: boolean;
  /** [-] Last change of the weights over their norm. */
  readonly change: number;
}

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
): ArplsFit {
  const n = y.length;
  const work = penalisedWork(n);
  const joined = new Float64Array(n).fill(1);
  const level = new Float64Array(n);
  const weight = given.slice();
  let rounds = 0;
  let settled = false;
  let relative = 0;
  while (!settled && rounds < mostRounds) {
    solvePenalised(y, weight, joined, n, stiffness, 0, level, work);
    rounds++;
    const below = belowLine(y, level, given);
    if (below === undefined) {
      settled = true;
      break;
    }
    const { mean, deviation } = below;
    let change = 0;
    let norm = 0;
    const next = (i: number) =>
      !(given[i]! > 0) ? 0 : given[i]! / (1 + exp((2 * (y[i]! - level[i]! - (2 * deviation - mean))) / deviation));
    for (let i = 0; i < n; i++) {
      const difference = next(i) - weight[i]!;
      change += difference * difference;
      norm += weight[i]! * weight[i]!;
    }
    relative = norm > 0 ? Math.sqrt(change / norm) : 0;
    settled = relative < ratio;
    if (!settled) for (let i = 0; i < n; i++) weight[i] = next(i);
  }
  let squares = 0;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const d = y[i]! - level[i]!;
    squares += weight[i]! * d * d;
    sum += weight[i]!;
  }
  return {
    level,
    weight,
    variance: sum > 0 ? squares / sum : 0,
    inverse: work.inverse,
    rounds,
    settled,
    change: relative,
  };
}

/** Mean and standard deviation (n - 1) of the negative differences; nothing when they say nothing. */
function belowLine(
  y: Float64Array,
  level: Float64Array,
  given: Float64Array,
): { readonly mean: number; readonly deviation: number } | undefined {
  let count = 0;
  let sum = 0;
  for (let i = 0; i < y.length; i++) {
    const d = y[i]! - level[i]!;
    if (!(given[i]! > 0) || d >= 0) continue;
    count++;
    sum += d;
  }
  if (count < 2) return undefined;
  const mean = sum / count;
  let squares = 0;
  for (let i = 0; i < y.length; i++) {
    const d = y[i]! - level[i]!;
    if (!(given[i]! > 0) || d >= 0) continue;
    squares += (d - mean) * (d - mean);
  }
  const deviation = Math.sqrt(squares / (count - 1));
  return deviation > 0 ? { mean, deviation } : undefined;
}
