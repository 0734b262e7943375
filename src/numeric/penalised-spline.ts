/**
 * Work arrays of {@link solvePenalised}, kept by the caller over several calls.
 */
export interface PenalisedWork {
  readonly d: Float64Array;
  readonly l1: Float64Array;
  readonly l2: Float64Array;
  readonly inverse: Float64Array;
}

/** Fresh work arrays for up to `count` knots. */
export function penalisedWork(count: number): PenalisedWork {
  return {
    d: new Float64Array(count),
    l1: new Float64Array(count),
    l2: new Float64Array(count),
    inverse: new Float64Array(count),
  };
}

/**
 * Minimises sum w (y - z)² + bend sum (second difference of z)² + pull sum
 * (first difference of z)² over K equally spaced knots: the discrete smoother
 * of Whittaker (1923) with a second penalty on slope. Pentadiagonal LDLᵀ, linear in K.
 *
 * `joined[i]` is 0 where the differences across knots i and i + 1 are free (a
 * step of the baseline), 1 elsewhere; `pulled` scales the penalty on slope alike.
 * The diagonal of the inverse is left in
 * `work.inverse` (recursion of Hutchinson and de Hoog, Numer. Math. 47 (1985)
 * 99-106, from memory), so that the effective number of parameters is sum w times it.
 */
export function solvePenalised(
  y: Float64Array,
  w: Float64Array,
  joined: Float64Array,
  count: number,
  bend: number,
  pull: number,
  z: Float64Array,
  work: PenalisedWork,
  pulled: Float64Array = joined,
): void {
  const { d, l1, l2, inverse } = work;
  // The matrix is built row by row: row i of the second difference spans i-1, i, i+1.
  for (let i = 0; i < count; i++) {
    let a0 = w[i]!;
    let a1 = 0; // coupling to i - 1
    let a2 = 0; // coupling to i - 2
    const left = i > 0 ? joined[i - 1]! : 0;
    const right = i < count - 1 ? joined[i]! : 0;
    const pullLeft = i > 0 ? pull * pulled[i - 1]! : 0;
    a0 += pullLeft + (i < count - 1 ? pull * pulled[i]! : 0);
    a1 -= pullLeft;
    const centre = left * right * bend;
    a0 += 4 * centre;
    if (i > 0) {
      const before = i > 1 ? joined[i - 2]! * left * bend : 0;
      a0 += before;
      a1 -= 2 * (centre + before);
      if (i > 1) a2 += before;
    }
    if (i < count - 2) a0 += right * joined[i + 1]! * bend;
    // LDLᵀ of this row.
    if (i > 1) {
      const m2 = a2 / d[i - 2]!;
      l2[i] = m2;
      a1 -= m2 * d[i - 2]! * l1[i - 1]!;
      a0 -= m2 * m2 * d[i - 2]!;
    }
    if (i > 0) {
      const m1 = a1 / d[i - 1]!;
      l1[i] = m1;
      a0 -= m1 * m1 * d[i - 1]!;
    }
    d[i] = a0 > 0 ? a0 : 1e-300;
    z[i] = w[i]! * y[i]! - (i > 0 ? l1[i]! * z[i - 1]! : 0) - (i > 1 ? l2[i]! * z[i - 2]! : 0);
  }
  for (let i = count - 1; i >= 0; i--) {
    z[i] = z[i]! / d[i]! - (i + 1 < count ? l1[i + 1]! * z[i + 1]! : 0) - (i + 2 < count ? l2[i + 2]! * z[i + 2]! : 0);
  }
  // Central bands of the inverse from the last row up.
  let s00 = 0; // inverse[i+1][i+1]
  let s01 = 0; // inverse[i+1][i+2]
  let s11 = 0; // inverse[i+2][i+2]
  for (let i = count - 1; i >= 0; i--) {
    const m1 = i + 1 < count ? l1[i + 1]! : 0;
    const m2 = i + 2 < count ? l2[i + 2]! : 0;
    const off1 = -m1 * s00 - m2 * s01;
    const off2 = -m1 * s01 - m2 * s11;
    const diagonal = 1 / d[i]! - m1 * off1 - m2 * off2;
    inverse[i] = diagonal;
    s11 = s00;
    s01 = off1;
    s00 = diagonal;
  }
}
