/**
 * Fits a polynomial of degree 2 to 4 by unweighted least squares to the entries
 * `first` to `last` of a curve, in the scaled position u = (t - centre) / scale,
 * on the real, possibly unequal, axis.
 *
 * The normal equations are solved by Cholesky's method; with |u| up to 1 their
 * condition number stays near 1e5, so that ten digits are left.
 *
 * @param fit - From {@link createFit}; its first 5 entries receive the
 *   coefficients of 1, u, u², ..., the rest is scratch.
 * @returns Whether the points determine the polynomial.
 */
export function fitLocalPolynomial(
  time: ArrayLike<number>,
  value: ArrayLike<number>,
  first: number,
  last: number,
  centre: number,
  scale: number,
  degree: 2 | 3 | 4,
  fit: Float64Array,
): boolean {
  if (last - first < degree) return false;
  if (degree === 2) addPowersToFour(time, value, first, last, centre, scale, fit);
  else addPowersToEight(time, value, first, last, centre, scale, fit);
  return solveNormalEquations(degree + 1, fit);
}

/** Room for one fit: coefficients (5), sums of powers (9), right side (5), triangle (25). */
export function createFit(): Float64Array {
  return new Float64Array(44);
}

const powers = 5;
const right = 14;
const triangle = 19;

function addPowersToFour(
  time: ArrayLike<number>,
  value: ArrayLike<number>,
  first: number,
  last: number,
  centre: number,
  scale: number,
  fit: Float64Array,
): void {
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let b0 = 0;
  let b1 = 0;
  let b2 = 0;
  const invert = 1 / scale;
  for (let i = first; i <= last; i++) {
    const u = (time[i]! - centre) * invert;
    const v = u * u;
    const y = value[i]!;
    s1 += u;
    s2 += v;
    s3 += u * v;
    s4 += v * v;
    b0 += y;
    b1 += y * u;
    b2 += y * v;
  }
  fit[powers] = last - first + 1;
  fit[powers + 1] = s1;
  fit[powers + 2] = s2;
  fit[powers + 3] = s3;
  fit[powers + 4] = s4;
  fit[right] = b0;
  fit[right + 1] = b1;
  fit[right + 2] = b2;
}

function addPowersToEight(
  time: ArrayLike<number>,
  value: ArrayLike<number>,
  first: number,
  last: number,
  centre: number,
  scale: number,
  fit: Float64Array,
): void {
  addPowersToFour(time, value, first, last, centre, scale, fit);
  let s5 = 0;
  let s6 = 0;
  let s7 = 0;
  let s8 = 0;
  let b3 = 0;
  let b4 = 0;
  const invert = 1 / scale;
  for (let i = first; i <= last; i++) {
    const u = (time[i]! - centre) * invert;
    const v = u * u;
    const w = v * v;
    const y = value[i]!;
    s5 += u * w;
    s6 += v * w;
    s7 += u * v * w;
    s8 += w * w;
    b3 += y * u * v;
    b4 += y * w;
  }
  fit[powers + 5] = s5;
  fit[powers + 6] = s6;
  fit[powers + 7] = s7;
  fit[powers + 8] = s8;
  fit[right + 3] = b3;
  fit[right + 4] = b4;
}

/** Cholesky's method on the m normal equations whose sums lie in `fit`. */
function solveNormalEquations(m: number, fit: Float64Array): boolean {
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = fit[powers + i + j]!;
      for (let k = 0; k < j; k++) sum -= fit[triangle + i * 5 + k]! * fit[triangle + j * 5 + k]!;
      if (i === j) {
        // What is left of the diagonal after the lower powers: nothing left, nothing determined.
        if (!(sum > 1e-12 * fit[powers + 2 * i]!)) return false;
        fit[triangle + i * 6] = Math.sqrt(sum);
      } else {
        fit[triangle + i * 5 + j] = sum / fit[triangle + j * 6]!;
      }
    }
  }
  for (let i = 0; i < m; i++) {
    let sum = fit[right + i]!;
    for (let k = 0; k < i; k++) sum -= fit[triangle + i * 5 + k]! * fit[k]!;
    fit[i] = sum / fit[triangle + i * 6]!;
  }
  for (let i = m - 1; i >= 0; i--) {
    let sum = fit[i]!;
    for (let k = i + 1; k < m; k++) sum -= fit[triangle + k * 5 + i]! * fit[k]!;
    fit[i] = sum / fit[triangle + i * 6]!;
  }
  for (let i = m; i < 5; i++) fit[i] = 0;
  return true;
}
