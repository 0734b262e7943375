/** What {@link dampedStep} works on; sizes are those of the largest problem. */
export interface DampedProblem {
  /** Columns of R, `stride` apart, of the factored Jacobian. */
  readonly r: Float64Array;
  readonly stride: number;
  /** Which parameter each column of R belongs to. */
  readonly order: Int32Array;
  /** How many columns. */
  count: number;
  /** How many of them are not rounding. */
  rank: number;
  /** Qᵀ times the residuals. */
  readonly q: Float64Array;
  /** Scale of each parameter. */
  readonly scale: Float64Array;
  /** Takes the step of each parameter; those of no column are left alone. */
  readonly step: Float64Array;
  /** Scratch: stride² numbers and twice stride numbers. */
  readonly damped: Float64Array;
  readonly right: Float64Array;
  readonly row: Float64Array;
}

const smallest = 2.2250738585072014e-308;

/**
 * Finds the damping for which the scaled step is as long as allowed, to a tenth,
 * and that step; no damping when the undamped step is short enough.
 *
 * Newton's method on the length of the step, between bounds that close in: the
 * algorithm of J. J. Moré, "The Levenberg-Marquardt algorithm: implementation and
 * theory", Lecture Notes in Mathematics 630 (1978) 105-116, section 5.
 *
 * @returns [-] The damping.
 */
export function dampedStep(problem: DampedProblem, allowed: number, before: number): number {
  const { r, stride, order, count, rank, q, scale, right } = problem;
  for (let k = 0; k < count; k++) right[k] = k < rank ? -q[k]! : 0;
  solveUpper(r, stride, rank, right);
  let length = scatter(problem);
  let excess = length - allowed;
  if (excess <= 0.1 * allowed) return 0;
  let low = 0;
  if (rank === count) low = excess / allowed / newtonWeight(problem, r, length);
  let gradient = 0;
  for (let k = 0; k < count; k++) {
    let sum = 0;
    for (let i = 0; i <= k; i++) sum += r[i + k * stride]! * q[i]!;
    const part = sum / scale[order[k]!]!;
    gradient += part * part;
  }
  gradient = Math.sqrt(gradient);
  let high = gradient / allowed;
  if (high === 0) high = smallest / Math.min(allowed, 0.1);
  let damping = Math.min(Math.max(before, low), high);
  if (damping === 0) damping = gradient / length;
  for (let turn = 1; ; turn++) {
    if (damping === 0) damping = Math.max(smallest, 0.001 * high);
    solveDamped(problem, Math.sqrt(damping));
    length = scatter(problem);
    const previous = excess;
    excess = length - allowed;
    if (Math.abs(excess) <= 0.1 * allowed || (low === 0 && excess <= previous && previous < 0) || turn === 10) break;
    const change = excess / allowed / newtonWeight(problem, problem.damped, length);
    if (excess > 0) low = Math.max(low, damping);
    if (excess < 0) high = Math.min(high, damping);
    damping = Math.max(low, damping + change);
  }
  return damping;
}

/** Hands the solution to the parameters; its scaled length. */
function scatter({ order, count, right, scale, step }: DampedProblem): number {
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const j = order[k]!;
    step[j] = right[k]!;
    const part = scale[j]! * right[k]!;
    sum += part * part;
  }
  return Math.sqrt(sum);
}

/** |T⁻ᵀ D² step / length|², T the triangle; what Newton's method divides by. */
function newtonWeight(
  { stride, order, count, scale, step, row }: DampedProblem,
  t: Float64Array,
  length: number,
): number {
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const j = order[k]!;
    let entry = (scale[j]! * (scale[j]! * step[j]!)) / length;
    for (let i = 0; i < k; i++) entry -= t[i + k * stride]! * row[i]!;
    row[k] = entry / t[k + k * stride]!;
    sum += row[k]! * row[k]!;
  }
  return sum;
}

/** Solves for the step damped by `root`² by turning the rows of root · scale into R by plane rotations. */
function solveDamped({ r, stride, order, count, q, scale, damped, right, row }: DampedProblem, root: number): void {
  for (let k = 0; k < count; k++) {
    right[k] = -q[k]!;
    for (let i = 0; i <= k; i++) damped[i + k * stride] = r[i + k * stride]!;
  }
  for (let k = 0; k < count; k++) {
    row.fill(0, k, count);
    row[k] = root * scale[order[k]!]!;
    let below = 0;
    for (let i = k; i < count; i++) {
      const entry = row[i]!;
      if (entry === 0) continue;
      const diagonal = damped[i + i * stride]!;
      const length = hypotenuse(diagonal, entry);
      const cosine = diagonal / length;
      const sine = entry / length;
      for (let j = i; j < count; j++) {
        const place = i + j * stride;
        const upper = damped[place]!;
        damped[place] = cosine * upper + sine * row[j]!;
        row[j] = cosine * row[j]! - sine * upper;
      }
      const upper = right[i]!;
      right[i] = cosine * upper + sine * below;
      below = cosine * below - sine * upper;
    }
  }
  solveUpper(damped, stride, count, right);
}

function hypotenuse(a: number, b: number): number {
  const large = Math.max(Math.abs(a), Math.abs(b));
  const ratio = Math.min(Math.abs(a), Math.abs(b)) / large;
  return large * Math.sqrt(1 + ratio * ratio);
}

function solveUpper(t: Float64Array, stride: number, count: number, right: Float64Array): void {
  for (let k = count - 1; k >= 0; k--) {
    const value = right[k]! / t[k + k * stride]!;
    right[k] = value;
    for (let i = 0; i < k; i++) right[i] = right[i]! - t[i + k * stride]! * value;
  }
}
