import { failOption } from '../core/index.js';
import { dampedStep, type DampedProblem } from './damped-step.js';
import { factorPivoted } from './pivoted-qr.js';

const caller = 'fitLeastSquares';

/** A sum of squares to be made small. */
export interface LeastSquaresProblem {
  /**
   * Fills in N residuals (fit minus data or data minus fit) and, when given, their
   * derivatives: N for the first parameter, then N for the second, and so on. The
   * three arrays are the solver's own and the same in every call: keep views of
   * them if you like, and change none but the last two. NaN or infinite
   * residuals say that there is nothing here; such a step is taken back.
   */
  readonly evaluate: (parameters: Float64Array, residuals: Float64Array, jacobian?: Float64Array) => void;
  /** P starting values; moved to the nearest bound when outside. */
  readonly start: ArrayLike<number>;
  /** N residuals, N ≥ P. */
  readonly points: number;
  /** P lower bounds, -Infinity for none; equal to the upper bound for a parameter that is held. */
  readonly lower?: ArrayLike<number>;
  /** P upper bounds, Infinity for none. */
  readonly upper?: ArrayLike<number>;
  /** [-] At most this many steps are tried; 100 if not given. */
  readonly maxIterations?: number;
  /** When to stop. */
  readonly tolerances?: {
    /** [-] Relative fall of the sum of squares, expected and found; 1e-14 if not given. */
    readonly reduction?: number;
    /** [-] Scaled step relative to the scaled parameters; 1e-10 if not given. */
    readonly step?: number;
    /** [-] Cosine between the residuals and the nearest column; 1e-12 if not given. */
    readonly gradient?: number;
  };
}

/** A nonlinear least-squares fit. */
export type NonlinearFit = ReachedFit | { readonly status: 'failed'; readonly reason: 'not finite at the start' };

/** A fit that ended at a point: at a minimum when converged. */
export interface ReachedFit {
  readonly status: 'converged' | 'stopped';
  /** Which rule ended it: `rounding` when no smaller sum can be told apart, `iterations` before the minimum. */
  readonly reason: 'reduction' | 'step' | 'gradient' | 'exact' | 'iterations' | 'rounding';
  /** P numbers within the bounds. */
  readonly parameters: Float64Array;
  /** N numbers, as `evaluate` gives them there. */
  readonly residuals: Float64Array;
  readonly residualSumOfSquares: number;
  /** N less the parameters that are free at the end. */
  readonly degreesOfFreedom: number;
  /** [-] Steps tried. */
  readonly iterations: number;
  /** Indices of the parameters held at a bound at the end; their rows and columns of the covariance are 0. */
  readonly held: readonly number[];
  /** Indices of parameters that the data do not determine apart from the others; no covariance when there are any. */
  readonly undetermined: readonly number[];
  /**
   * Unscaled covariance, the inverse of JᵀJ over the free parameters, P x P: times
   * residualSumOfSquares / degreesOfFreedom it is the covariance.
   */
  readonly unscaledCovariance?: Float64Array;
}

/**
 * Makes a sum of squares small by damped least squares within bounds.
 *
 * The step is that of a region of trust in parameters scaled by the largest norm
 * their columns have had (J. J. Moré, "The Levenberg-Marquardt algorithm:
 * implementation and theory", Lecture Notes in Mathematics 630 (1978) 105-116);
 * QR, never the normal equations. Bounds are those of a projected method: a
 * parameter at a bound is held while the gradient presses it outward (D. P.
 * Bertsekas, SIAM J. Control Optim. 20 (1982) 221-246), the step of the others is
 * projected onto the box and judged as projected (C. Kanzow, N. Yamashita and M.
 * Fukushima, J. Comput. Appl. Math. 172 (2004) 375-397). Only `+ - * /` and square
 * root; no array is allocated for a step.
 *
 * @param problem - Residuals, start, bounds and when to stop.
 *
 * @throws {@link PeakwrightError} `option-invalid` when there are fewer points than parameters, or a lower bound
 *   is above the upper one.
 *
 * @returns The fit: finite numbers only, whatever `evaluate` gives.
 */
export function fitLeastSquares(problem: LeastSquaresProblem): NonlinearFit {
  const { evaluate, maxIterations = 100 } = problem;
  const tolerances = { ...defaultTolerances, ...problem.tolerances };
  const state = createState(problem);
  const { at, trial, work, jacobian } = state;
  evaluate(trial, work, jacobian);
  const square = finiteSquare(work, jacobian);
  if (square === undefined || !trial.every(Number.isFinite)) {
    return { status: 'failed', reason: 'not finite at the start' };
  }
  at.set(trial);
  state.square = square;
  let reason = settle(state, tolerances);
  state.allowed = 100 * scaledLength(state.scale, at) || 100;
  let iterations = 0;
  while (reason === undefined && iterations < maxIterations) {
    iterations++;
    reason = takeStep(evaluate, state, tolerances, iterations === 1);
  }
  return conclude(evaluate, state, reason ?? 'iterations', iterations);
}

const defaultTolerances = { reduction: 1e-14, step: 1e-10, gradient: 1e-12 };
type Tolerances = typeof defaultTolerances;
type Reason = ReachedFit['reason'];

/** Tries one step, keeps it when the sum of squares falls, and sets how long the next may be; why to end, if to end. */
function takeStep(
  evaluate: LeastSquaresProblem['evaluate'],
  state: State,
  tolerances: Tolerances,
  isFirst: boolean,
): Reason | undefined {
  const { at, trial, work, jacobian, step, scale } = state;
  step.fill(0);
  state.damping = dampedStep(state.damped, state.allowed, state.damping);
  const length = scaledLength(scale, step);
  if (isFirst) state.allowed = Math.min(state.allowed, length);
  project(state);
  const { slope, expected } = predict(state);
  evaluate(trial, work, jacobian);
  state.isFactored = false;
  const found = finiteSquare(work, jacobian);
  const fall = found === undefined ? -Infinity : found < 100 * state.square ? 1 - found / state.square : -1;
  const ratio = expected > 0 && found !== undefined ? fall / expected : 0;
  adjustRegion(state, length, fall, slope, ratio);
  // A change too small to tell from rounding does not speak against the last step.
  const isSettled = Math.abs(fall) <= tolerances.reduction && expected >= 0 && expected <= tolerances.reduction;
  const isTaken = found !== undefined && (ratio >= 1e-4 || isSettled);
  if (isTaken) {
    at.set(trial);
    state.square = found;
  } else {
    state.isFactored = true; // R is still that of the point the step began at
  }
  if (isSettled && state.square > 0) return 'reduction';
  if (state.allowed <= tolerances.step * scaledLength(scale, at)) return 'step';
  if (Math.abs(fall) <= 2.3e-16 && expected <= 2.3e-16) return 'rounding';
  return isTaken ? settle(state, tolerances) : undefined;
}

/** Longer steps where the linear model foretold the fall, shorter ones where it did not. */
function adjustRegion(state: State, length: number, fall: number, slope: number, ratio: number): void {
  if (ratio <= 0.25) {
    let shrink = fall >= 0 ? 0.5 : fall > -1 && slope < 0 ? (0.5 * slope) / (slope + 0.5 * fall) : 0.1;
    if (!(shrink >= 0.1)) shrink = 0.1;
    state.allowed = shrink * Math.min(state.allowed, 10 * length);
    state.damping /= shrink;
  } else if (state.damping === 0 || ratio >= 0.75) {
    state.allowed = 2 * length;
    state.damping *= 0.5;
  }
}

/** Factors at a new point; why to end there, if to end. */
function settle(state: State, tolerances: Tolerances): Reason | undefined {
  const steepest = factorState(state);
  if (state.square === 0) return 'exact';
  return steepest <= tolerances.gradient ? 'gradient' : undefined;
}

interface State {
  readonly at: Float64Array;
  readonly trial: Float64Array;
  readonly step: Float64Array;
  readonly scale: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly jacobian: Float64Array;
  /** Residuals; used up by the factoring. */
  readonly work: Float64Array;
  readonly squares: Float64Array;
  /** Its `count` and `rank`: the free parameters, and how many of them the data determine. */
  readonly damped: DampedProblem;
  /** Sum of squares at the point. */
  square: number;
  /** Longest scaled step allowed, and the damping that kept to it. */
  allowed: number;
  damping: number;
  /** Whether R belongs to the point; when not, the Jacobian and the residuals do. */
  isFactored: boolean;
}

function createState({ start, points, lower, upper }: LeastSquaresProblem): State {
  const p = start.length;
  if (!(points >= p)) failOption(caller, 'points', `at least the ${p} parameters`, points);
  const numbers = (value = 0): Float64Array => new Float64Array(p).fill(value);
  const lowest = lower === undefined ? numbers(-Infinity) : Float64Array.from(lower);
  const highest = upper === undefined ? numbers(Infinity) : Float64Array.from(upper);
  lowest.forEach((value, j) => {
    if (!(value <= highest[j]!)) failOption(caller, `lower[${j}]`, 'at most the upper bound', value);
  });
  const step = numbers();
  const scale = numbers();
  return {
    at: numbers(),
    trial: Float64Array.from(start, (value, j) => Math.min(Math.max(value, lowest[j]!), highest[j]!)),
    step,
    scale,
    lower: lowest,
    upper: highest,
    jacobian: new Float64Array(points * p),
    work: new Float64Array(points),
    squares: numbers(),
    damped: {
      r: new Float64Array(p * p),
      stride: p,
      order: new Int32Array(p),
      q: numbers(),
      scale,
      step,
      damped: new Float64Array(p * p),
      right: numbers(),
      row: numbers(),
      count: 0,
      rank: 0,
    },
    square: 0,
    allowed: 0,
    damping: 0,
    isFactored: false,
  };
}

/** The sum of squares, when it and every derivative are finite. */
function finiteSquare(residuals: Float64Array, jacobian: Float64Array): number | undefined {
  let square = 0;
  for (let i = 0; i < residuals.length; i++) square += residuals[i]! * residuals[i]!;
  let derivatives = 0;
  for (let i = 0; i < jacobian.length; i++) derivatives += jacobian[i]! * jacobian[i]!;
  return Number.isFinite(square) && Number.isFinite(derivatives) ? square : undefined;
}

/** Chooses the free parameters, grows the scale and factors; the largest cosine of a free column. */
function factorState(state: State): number {
  const { at, scale, lower, upper, jacobian, work, damped } = state;
  const points = work.length;
  const root = Math.sqrt(state.square);
  let steepest = 0;
  damped.count = 0;
  for (let j = 0; j < at.length; j++) {
    let norm = 0;
    let dot = 0;
    for (let i = 0, place = j * points; i < points; i++, place++) {
      norm += jacobian[place]! * jacobian[place]!;
      dot += jacobian[place]! * work[i]!;
    }
    norm = Math.sqrt(norm);
    if (norm > scale[j]!) scale[j] = norm;
    if ((at[j]! <= lower[j]! && dot >= 0) || (at[j]! >= upper[j]! && dot <= 0) || lower[j] === upper[j]) continue;
    damped.order[damped.count++] = j;
    if (norm > 0 && root > 0) steepest = Math.max(steepest, Math.abs(dot) / norm / root);
  }
  for (let j = 0; j < at.length; j++) if (scale[j] === 0) scale[j] = 1;
  state.damped.rank = factorPivoted(
    jacobian,
    points,
    damped.order,
    state.damped.count,
    work,
    damped.r,
    damped.stride,
    state.squares,
  );
  for (let k = 0; k < state.damped.count; k++) damped.q[k] = work[k]!;
  state.isFactored = true;
  return steepest;
}

/** Trial point within the bounds, and the step that leads there. */
function project({ at, trial, step, lower, upper }: State): void {
  for (let j = 0; j < at.length; j++) {
    const target = Math.min(Math.max(at[j]! + step[j]!, lower[j]!), upper[j]!);
    if (target !== at[j]! + step[j]!) step[j] = target - at[j]!;
    trial[j] = target;
  }
}

/** What the linear model says of the projected step: slope along it and fall of the sum of squares, both relative. */
function predict(state: State): { readonly slope: number; readonly expected: number } {
  const { r, stride, order, q, step } = state.damped;
  let slope = 0;
  let moved = 0;
  for (let i = 0; i < state.damped.count; i++) {
    let sum = 0;
    for (let k = i; k < state.damped.count; k++) sum += r[i + k * stride]! * step[order[k]!]!;
    slope += q[i]! * sum;
    moved += sum * sum;
  }
  return { slope: slope / state.square, expected: (-2 * slope - moved) / state.square };
}

function scaledLength(scale: Float64Array, values: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < values.length; j++) {
    const part = scale[j]! * values[j]!;
    sum += part * part;
  }
  return Math.sqrt(sum);
}

function conclude(
  evaluate: LeastSquaresProblem['evaluate'],
  state: State,
  reason: Reason,
  iterations: number,
): ReachedFit {
  const { at, trial, work } = state;
  const isFactored = state.isFactored;
  if (isFactored) {
    trial.set(at);
    evaluate(trial, work);
  }
  const residuals = work.slice();
  if (!isFactored) factorState(state);
  const free = [...state.damped.order.subarray(0, state.damped.count)];
  const undetermined = free.slice(state.damped.rank).sort((a, b) => a - b);
  return {
    status: reason === 'iterations' ? 'stopped' : 'converged',
    reason,
    parameters: at,
    residuals,
    residualSumOfSquares: state.square,
    degreesOfFreedom: residuals.length - state.damped.count,
    iterations,
    held: [...at.keys()].filter((j) => !free.includes(j)),
    undetermined,
    ...(undetermined.length === 0 && { unscaledCovariance: invertNormal(state) }),
  };
}

/** (RᵀR)⁻¹ in the order of the parameters. */
function invertNormal({ damped: { r, stride, order, count } }: State): Float64Array {
  const inverse = new Float64Array(stride * stride);
  for (let k = 0; k < count; k++) {
    inverse[k + k * stride] = 1 / r[k + k * stride]!;
    for (let i = k - 1; i >= 0; i--) {
      let sum = 0;
      for (let l = i + 1; l <= k; l++) sum += r[i + l * stride]! * inverse[l + k * stride]!;
      inverse[i + k * stride] = -sum / r[i + i * stride]!;
    }
  }
  const covariance = new Float64Array(stride * stride);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < count; k++) sum += inverse[i + k * stride]! * inverse[j + k * stride]!;
      covariance[order[i]! * stride + order[j]!] = sum;
      covariance[order[j]! * stride + order[i]!] = sum;
    }
  }
  return covariance;
}
