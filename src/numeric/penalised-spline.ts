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
 * step of the baseline), 1 elsewhere; `pulled` scales the penalty on slope alike, and `slopes` are
 * the differences it pulls to, 0 if not given.
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
  slopes?: Float64Array,
): void {
  const { d, l1, l2, inverse } = work;
  const last = count - 1;
  // Row by row: the second difference about i spans i - 1 to i + 1; what the rows before left is carried along.
  let d1 = 1;
  let d2 = 1;
  let l1Before = 0;
  let z1 = 0;
  let z2 = 0;
  let jointBefore = 0;
  let joint = 0;
  let pullBefore = 0;
  let pushBefore = 0;
  for (let i = 0; i < count; i++) {
    const next = i < last ? joined[i]! : 0;
    const nextBut = i + 1 < last ? joined[i + 1]! : 0;
    const pullNext = i < last ? pull * pulled[i]! : 0;
    const centre = joint * next * bend;
    const before = jointBefore * joint * bend;
    const diagonal = w[i]! + pullBefore + pullNext + 4 * centre + before + next * nextBut * bend;
    const beside = -pullBefore - 2 * (centre + before) - before * l1Before;
    const m2 = before / d2;
    const m1 = beside / d1;
    const rest = diagonal - m2 * before - m1 * beside;
    const own = rest > 0 ? rest : 1e-300;
    const push = slopes === undefined ? 0 : pullNext * slopes[i]!;
    const value = w[i]! * y[i]! + pushBefore - push - m1 * z1 - m2 * z2;
    d[i] = own;
    l1[i] = m1;
    l2[i] = m2;
    z[i] = value;
    d2 = d1;
    d1 = own;
    l1Before = m1;
    z2 = z1;
    z1 = value;
    jointBefore = joint;
    joint = next;
    pullBefore = pullNext;
    pushBefore = push;
  }
  // Back substitution, and the central bands of the inverse, from the last row up.
  let m1 = 0;
  let m2 = 0;
  let above = 0;
  let s00 = 0;
  let s01 = 0;
  let s11 = 0;
  z1 = 0;
  z2 = 0;
  for (let i = last; i >= 0; i--) {
    const value = z[i]! / d[i]! - m1 * z1 - m2 * z2;
    z[i] = value;
    const off1 = -m1 * s00 - m2 * s01;
    const diagonal = 1 / d[i]! - m1 * off1 + m2 * (m1 * s01 + m2 * s11);
    inverse[i] = diagonal;
    z2 = z1;
    z1 = value;
    s11 = s00;
    s01 = off1;
    s00 = diagonal;
    m1 = l1[i]!;
    m2 = above;
    above = l2[i]!;
  }
}
