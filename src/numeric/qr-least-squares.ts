/** A linear least-squares fit y = intercept + sum of coefficients x columns. */
export interface LeastSquaresFit {
  /** Whether the columns determine the coefficients; when not, the numbers of the dependent columns are 0. */
  readonly status: 'solved' | 'rank deficient';
  /** Intercept; 0 when none was asked for. */
  readonly intercept: number;
  /** P coefficients, in the order of the columns. */
  readonly coefficients: Float64Array;
  /** N residuals, data minus fit. */
  readonly residuals: Float64Array;
  /** Sum of the squared residuals. */
  readonly residualSumOfSquares: number;
  /** N - P, one less with an intercept. */
  readonly degreesOfFreedom: number;
  /**
   * Inverse of the normal matrix, row by row; times the residual variance it
   * is the covariance of the parameters. The intercept, when there is one, is
   * the first parameter.
   */
  readonly unscaledCovariance: Float64Array;
}

/** A diagonal of R below this share of its (unit) column is taken for rounding. */
const rankTolerance = 1e-13;

/**
 * Solves a linear least-squares problem by Householder triangularisation.
 *
 * With an intercept, the columns and the data are centred first, so a large
 * constant in them costs no digits; every column is then scaled to unit length,
 * so its unit does not matter. Needs at least as many rows as parameters. Only
 * `+ - * /` and the square root are used: same input, same bits.
 *
 * @param columns - P columns of N values; read, never changed.
 * @param y - N data.
 *
 * @see G. Golub (1965), Numer. Math. 7, 206-216. doi:10.1007/BF01436075
 */
export function solveLeastSquares(
  columns: readonly Float64Array[],
  y: Float64Array,
  options: { readonly intercept: boolean },
): LeastSquaresFit {
  const n = y.length;
  const p = columns.length;
  const means = columns.map((column) => (options.intercept ? mean(column) : 0));
  const yMean = options.intercept ? mean(y) : 0;
  const scales = new Float64Array(p);
  const q = columns.map((column, j) => {
    const centred = column.map((value) => value - means[j]!);
    const length = norm(centred, 0);
    scales[j] = length;
    return length === 0 ? centred : centred.map((value) => value / length);
  });
  const rotated = y.map((value) => value - yMean);
  const diagonal = triangularise(q, rotated);
  let deficient = false;
  const independent = Array.from(diagonal, (value, j) => {
    const ok = scales[j]! > 0 && Math.abs(value) > rankTolerance;
    if (!ok) deficient = true;
    return ok;
  });

  const scaled = new Float64Array(p);
  for (let j = p - 1; j >= 0; j--) {
    if (!independent[j]) continue;
    let sum = rotated[j]!;
    for (let k = j + 1; k < p; k++) sum -= q[k]![j]! * scaled[k]!;
    scaled[j] = sum / diagonal[j]!;
  }
  const coefficients = scaled.map((value, j) => (independent[j] ? value / scales[j]! : 0));

  const residuals = new Float64Array(n);
  let residualSumOfSquares = 0;
  for (let i = 0; i < n; i++) {
    let r = y[i]! - yMean;
    for (let j = 0; j < p; j++) r -= coefficients[j]! * (columns[j]![i]! - means[j]!);
    residuals[i] = r;
    residualSumOfSquares += r * r;
  }
  let intercept = yMean;
  for (let j = 0; j < p; j++) intercept -= coefficients[j]! * means[j]!;
  return {
    status: deficient ? 'rank deficient' : 'solved',
    intercept: options.intercept ? intercept : 0,
    coefficients,
    residuals,
    residualSumOfSquares,
    degreesOfFreedom: n - p - (options.intercept ? 1 : 0),
    unscaledCovariance: invertNormal(q, diagonal, independent, scales, options.intercept ? { n, means } : undefined),
  };
}

/**
 * Turns the columns into R by reflections, in place: above the diagonal of each
 * column stands R, its diagonal is returned; `y` is rotated along.
 */
function triangularise(q: readonly Float64Array[], y: Float64Array): Float64Array {
  const p = q.length;
  const n = y.length;
  const diagonal = new Float64Array(p);
  for (let k = 0; k < p; k++) {
    const column = q[k]!;
    const length = norm(column, k);
    if (length === 0) continue;
    const alpha = column[k]! > 0 ? -length : length;
    column[k] = column[k]! - alpha;
    // |v|² = -2 alpha v_k, so that v v'/(-alpha v_k) reflects
    const beta = -alpha * column[k]!;
    for (let j = k + 1; j <= p; j++) {
      const target = j < p ? q[j]! : y;
      let dot = 0;
      for (let i = k; i < n; i++) dot += column[i]! * target[i]!;
      const factor = dot / beta;
      for (let i = k; i < n; i++) target[i] = target[i]! - factor * column[i]!;
    }
    diagonal[k] = alpha;
  }
  return diagonal;
}

/** (X'X)⁻¹ from R: R⁻¹R⁻ᵀ, unscaled, with the row of the intercept put back in front. */
function invertNormal(
  q: readonly Float64Array[],
  diagonal: Float64Array,
  independent: readonly boolean[],
  scales: Float64Array,
  centre: { readonly n: number; readonly means: readonly number[] } | undefined,
): Float64Array {
  const p = q.length;
  const inverse = Array.from({ length: p }, () => new Float64Array(p));
  for (let j = 0; j < p; j++) {
    if (!independent[j]) continue;
    inverse[j]![j] = 1 / diagonal[j]!;
    for (let i = j - 1; i >= 0; i--) {
      if (!independent[i]) continue;
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum += q[k]![i]! * inverse[k]![j]!;
      inverse[i]![j] = -sum / diagonal[i]!;
    }
  }
  const slopes = (a: number, b: number): number => {
    let sum = 0;
    for (let k = Math.max(a, b); k < p; k++) sum += inverse[a]![k]! * inverse[b]![k]!;
    return sum === 0 ? 0 : sum / scales[a]! / scales[b]!;
  };
  if (centre === undefined) return fill(p, slopes);
  const { n, means } = centre;
  const cross = Array.from({ length: p }, (_, a) => {
    let sum = 0;
    for (let b = 0; b < p; b++) sum -= slopes(a, b) * means[b]!;
    return sum;
  });
  return fill(p + 1, (a, b) => {
    if (a > 0 && b > 0) return slopes(a - 1, b - 1);
    if (a + b > 0) return cross[a + b - 1]!;
    return cross.reduce((sum, value, j) => sum - value * means[j]!, 1 / n);
  });
}

function fill(size: number, value: (row: number, column: number) => number): Float64Array {
  return Float64Array.from({ length: size * size }, (_, i) => value(Math.floor(i / size), i % size));
}

/** Mean in two passes: the second takes out the rounding of the first. */
function mean(values: Float64Array): number {
  const n = values.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += values[i]! / n;
  let rest = 0;
  for (let i = 0; i < n; i++) rest += values[i]! - sum;
  return sum + rest / n;
}

/** Euclidean length from index `from` on, safe against overflow and underflow. */
function norm(values: Float64Array, from: number): number {
  let largest = 0;
  for (let i = from; i < values.length; i++) largest = Math.max(largest, Math.abs(values[i]!));
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = from; i < values.length; i++) {
    const share = values[i]! / largest;
    sum += share * share;
  }
  return largest * Math.sqrt(sum);
}
