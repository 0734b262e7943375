/** What is left of a column below this share of the first is taken for rounding, times the number of rows. */
const rankTolerance = 2.220446049250313e-16;

/**
 * Factors the chosen columns of a matrix into Q R by Householder reflections, the
 * longest remaining column first, and applies Qᵀ to a vector. In place: the
 * columns and the vector are used up. Only `+ - * /` and square root.
 *
 * @param matrix - Columns of m numbers, one after the other.
 * @param m - Rows.
 * @param order - The chosen columns; ends in the order of R.
 * @param count - How many are chosen; at most m.
 * @param vector - m numbers; ends as Qᵀ vector.
 * @param r - Takes R: entry (i, k) at i + k stride, for i ≤ k.
 * @param stride - Distance of two columns of R.
 * @param squares - Scratch of at least `count` numbers.
 *
 * @returns [-] The rank: how many leading columns of R are not rounding.
 *
 * @see P. Businger and G. H. Golub (1965), Numerische Mathematik 7, 269-276
 */
export function factorPivoted(
  matrix: Float64Array,
  m: number,
  order: Int32Array,
  count: number,
  vector: Float64Array,
  r: Float64Array,
  stride: number,
  squares: Float64Array,
): number {
  for (let k = 0; k < count; k++) squares[k] = sumOfSquares(matrix, order[k]! * m, m);
  let rank = count;
  let largest = 0;
  for (let k = 0; k < count; k++) {
    const chosen = longest(squares, k, count);
    const column = order[chosen]!;
    order[chosen] = order[k]!;
    order[k] = column;
    squares[chosen] = squares[k]!;
    for (let i = 0; i < k; i++) swap(r, i + chosen * stride, i + k * stride);
    const top = column * m + k;
    const rows = m - k;
    const length = Math.sqrt(sumOfSquares(matrix, top, rows));
    if (k === 0) largest = length;
    if (!(length > rankTolerance * m * largest) && rank === count) rank = k;
    if (length === 0) {
      for (let j = k; j < count; j++) r[k + j * stride] = j === k ? 0 : matrix[order[j]! * m + k]!;
      continue;
    }
    const signed = matrix[top]! > 0 ? -length : length;
    const head = matrix[top]! - signed;
    matrix[top] = head;
    const scale = -1 / (signed * head); // 2 / vᵀv
    r[k + k * stride] = signed;
    for (let j = k + 1; j < count; j++) {
      const other = order[j]! * m + k;
      reflect(matrix, top, matrix, other, rows, scale);
      const entry = matrix[other]!;
      r[k + j * stride] = entry;
      squares[j] = remaining(matrix, other, rows, squares[j]!, entry);
    }
    reflect(matrix, top, vector, k, rows, scale);
  }
  return rank;
}

/** The square less one entry; summed anew when that difference has lost half its digits or more. */
function remaining(matrix: Float64Array, from: number, rows: number, square: number, entry: number): number {
  const rest = square - entry * entry;
  return rest > 1e-3 * square ? rest : sumOfSquares(matrix, from + 1, rows - 1);
}

function longest(squares: Float64Array, from: number, to: number): number {
  let best = from;
  for (let k = from + 1; k < to; k++) if (squares[k]! > squares[best]!) best = k;
  return best;
}

function sumOfSquares(values: Float64Array, from: number, count: number): number {
  let sum = 0;
  for (let i = from; i < from + count; i++) sum += values[i]! * values[i]!;
  return sum;
}

function reflect(v: Float64Array, at: number, target: Float64Array, from: number, rows: number, scale: number): void {
  let dot = 0;
  for (let i = 0; i < rows; i++) dot += v[at + i]! * target[from + i]!;
  dot *= scale;
  for (let i = 0; i < rows; i++) target[from + i] = target[from + i]! - dot * v[at + i]!;
}

function swap(values: Float64Array, i: number, j: number): void {
  const kept = values[i]!;
  values[i] = values[j]!;
  values[j] = kept;
}
