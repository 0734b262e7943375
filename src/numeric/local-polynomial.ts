/**
 * Fits a polynomial of degree 0 to 4 by unweighted least squares to the entries
 * `first` to `last` of a curve, in the scaled position u = (t - centre) / scale,
 * on the real, possibly unequal, axis.
 *
 * The normal equations are solved by Cholesky's method; with |u| up to 1 their
 * condition number stays near 1e5, so that ten digits are left.
 *
 * @param out - At least 5 entries; receives the coefficients of 1, u, u², ...
 * @returns Whether the points determine the polynomial.
 */
export function fitLocalPolynomial(
  time: ArrayLike<number>,
  value: ArrayLike<number>,
  first: number,
  last: number,
  centre: number,
  scale: number,
  degree: 0 | 1 | 2 | 3 | 4,
  out: Float64Array,
): boolean {
  const n = last - first + 1;
  if (n <= degree) return false;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let s5 = 0;
  let s6 = 0;
  let s7 = 0;
  let s8 = 0;
  let b0 = 0;
  let b1 = 0;
  let b2 = 0;
  let b3 = 0;
  let b4 = 0;
  for (let i = first; i <= last; i++) {
    const u = (time[i]! - centre) / scale;
    const v = u * u;
    const y = value[i]!;
    const w = v * v;
    s1 += u;
    s2 += v;
    s3 += u * v;
    s4 += w;
    s5 += u * w;
    s6 += v * w;
    s7 += u * v * w;
    s8 += w * w;
    b0 += y;
    b1 += y * u;
    b2 += y * v;
    b3 += y * u * v;
    b4 += y * w;
  }
  const sums = [n, s1, s2, s3, s4, s5, s6, s7, s8];
  const right = [b0, b1, b2, b3, b4];
  const m = degree + 1;
  const lower = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = sums[i + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * m + k]! * lower[j * m + k]!;
      if (i === j) {
        // What is left of the diagonal after the lower powers: nothing left, nothing determined.
        if (!(sum > 1e-12 * sums[2 * i]!)) return false;
        lower[i * m + i] = Math.sqrt(sum);
      } else {
        lower[i * m + j] = sum / lower[j * m + j]!;
      }
    }
  }
  for (let i = 0; i < m; i++) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= lower[i * m + k]! * out[k]!;
    out[i] = sum / lower[i * m + i]!;
  }
  for (let i = m - 1; i >= 0; i--) {
    let sum = out[i]!;
    for (let k = i + 1; k < m; k++) sum -= lower[k * m + i]! * out[k]!;
    out[i] = sum / lower[i * m + i]!;
  }
  for (let i = m; i < 5; i++) out[i] = 0;
  return true;
}
