/** A linear least-squares fit y = sum of coefficients x columns. */
export interface LeastSquaresFit {
  /** Whether the columns determine the coefficients; when not, the numbers of the dependent columns are 0. */
  readonly status: 'solved' | 'rank deficient';
  /** P coefficients, in the order of the columns. */
  readonly coefficients: Float64Array;
  /** N residuals, data minus fit. */
  readonly residuals: Float64Array;
  /** Sum of the squared residuals. */
  readonly residualSumOfSquares: number;
  /** N - P. */
  readonly degreesOfFreedom: number;
  /**
   * Inverse of the normal matrix, P x P, row by row; times the residual
   * variance it is the covariance of the coefficients.
   */
  readonly unscaledCovariance: Float64Array;
}

/** What remains of a column, squared, below this share of its own square is taken for rounding. */
const rankTolerance = 1e-28;

/**
 * Solves a linear least-squares problem by Gram-Schmidt orthogonalisation, each
 * column taken off twice so that nearly dependent columns cost no more digits
 * than they must. Give a column of ones first for an intercept: this centres the
 * others, so a large constant in them costs no digits. Below the data of every
 * column runs a column of the unit matrix, which ends as the inverse of R and,
 * under y, as the coefficients. Only `+ - * /` are used: same input, same bits.
 *
 * @param columns - P columns of N values, P <= N; read, never changed.
 * @param y - N data.
 *
 * @see Å. Björck (1967), BIT 7, 1-21. doi:10.1007/BF01934122
 */
export function solveLeastSquares(columns: readonly Float64Array[], y: Float64Array): LeastSquaresFit {
  const n = y.length;
  const p = columns.length;
  const extended = [...columns, y].map((column, j) => {
    const longer = new Float64Array(n + p);
    longer.set(column);
    if (j < p) longer[n + j] = 1;
    return longer;
  });
  const squares: number[] = [];
  extended.forEach((target, j) => {
    const before = dot(target, target, n);
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < j; k++) {
        if (squares[k] === 0) continue;
        const share = dot(extended[k]!, target, n) / squares[k]!;
        extended[k]!.forEach((value, i) => (target[i] = target[i]! - share * value));
      }
    }
    const square = dot(target, target, n);
    squares.push(square > rankTolerance * before ? square : 0);
  });
  const rest = extended[p]!;
  const free = squares.slice(0, p);
  return {
    status: free.includes(0) ? 'rank deficient' : 'solved',
    coefficients: Float64Array.from(free, (square, j) => (square === 0 ? 0 : 0 - rest[n + j]!)),
    residuals: rest.slice(0, n),
    residualSumOfSquares: dot(rest, rest, n),
    degreesOfFreedom: n - p,
    unscaledCovariance: Float64Array.from({ length: p * p }, (_, place) =>
      free.reduce((sum, square, k) => {
        const column = extended[k]!;
        return square === 0 ? sum : sum + (column[n + Math.floor(place / p)]! * column[n + (place % p)]!) / square;
      }, 0),
    ),
  };
}

function dot(a: Float64Array, b: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += a[i]! * b[i]!;
  return sum;
}
