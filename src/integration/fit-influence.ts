import { exp } from '../numeric/index.js';
import type { CurveFit } from './curve-fit.js';
import { curveRules } from './curve-kinds.js';
import { slackOfBaseline, type FitWindow } from './fit-window.js';

/** A fit near its solution. */
export interface Linearised {
  /** Number of parameters: curve after curve, then the line. */
  readonly size: number;
  /** Place of the first parameter of each curve. */
  readonly firsts: readonly number[];
  /** Derivative of the model by each parameter, column by column. */
  readonly columns: readonly Float64Array[];
  /** [signal unit] Each curve. */
  readonly curves: readonly Float64Array[];
  /** [signal unit] What the model leaves of each mean. */
  readonly residual: Float64Array;
  /** [s] Time that each mean stands for. */
  readonly width: Float64Array;
  readonly covariance: Float64Array;
}

/** Values and derivatives of a fit at its solution; nothing when its covariance is not known. */
export function linearise({ curves, line, covariance }: CurveFit, window: FitWindow): Linearised | undefined {
  if (covariance === undefined) return undefined;
  const { count, value, middle, half } = window;
  const time = window.time.subarray(0, count);
  const columns: Float64Array[] = [];
  const firsts: number[] = [];
  const parts = curves.map(({ kind, sign, parameters }) => {
    const out = new Float64Array(count);
    const jacobian = new Float64Array(count * parameters.length);
    curveRules[kind].family.evaluate(time, 0, count, [sign * parameters[0]!, ...parameters.slice(1)], 0, out, jacobian);
    if (sign < 0) for (let k = 0; k < count; k++) jacobian[k]! *= -1;
    firsts.push(columns.length);
    parameters.forEach((_, q) => columns.push(jacobian.subarray(q * count, (q + 1) * count)));
    return out;
  });
  const slope = time.map((t) => (t - middle) / half);
  columns.push(new Float64Array(count).fill(1), slope);
  const residual = value.map((y, k) => y - line[0] - line[1] * slope[k]!);
  for (const part of parts) for (let k = 0; k < count; k++) residual[k]! -= part[k]!;
  const width = time.map((t, k) => 30 * ((time[k + 1] ?? t) - (time[k - 1] ?? t)));
  return { size: columns.length, firsts, columns, curves: parts, residual, width, covariance };
}

/** [-] Means over which residuals that are alike are looked for: a standard deviation of the narrowest peak. */
const reach = 6;
/** [-] Residuals that the noise of the run counts as. */
const noiseCounts = 4;
/** [-] Above these, residuals count as alike, and as larger in a place than in others: a hundred of noise stay below. */
const mostAlike = 1.6;
const mostLocal = 2;
/** [-] Weight, over that of noise alone, from which the curves are low; fewer such means say too little. */
const quiet = 0.7;
const fewestQuiet = 20;
/** [-] Correlation of neighbouring residuals from which it counts, and up to which. */
const leastCorrelation = 0.25;
const mostCorrelation = 0.75;

/** What the means may be off by. */
export interface MeanVariances {
  /** [signal unit²] By noise alone, with as many means counting as one as are alike. */
  readonly noise: number;
  /** [signal unit²] By noise and what the curves do not follow, for each mean. */
  readonly each: Float64Array;
}

/**
 * What each mean may be off by: the noise of the run and the residuals where the
 * curves are low together, with as many residuals counting as one as are alike; more
 * where the residuals are larger than that.
 */
export function variancesOf(lines: Linearised, { count, noise, weight }: FitWindow): MeanVariances {
  const { residual } = lines;
  const isSeen = (k: number): boolean => weight[k]! > 0;
  const isQuiet = (k: number): boolean => weight[k]! * noise > quiet;
  const all = scatterOf(residual, count, isSeen);
  const low = scatterOf(residual, count, isQuiet);
  const some = low.seen > fewestQuiet ? low : all;
  const left = Math.max(0.1, 1 - takenUp(lines, weight) / Math.max(1, all.seen));
  const base = (noiseCounts * noise * noise + some.alike * some.squares) / (noiseCounts + left * some.seen);
  const grown = all.alike / left;
  const each = new Float64Array(count).fill(base);
  for (let k = 0; k < count; k++) {
    let local = 0;
    let n = 0;
    for (let i = Math.max(0, k - reach); i <= Math.min(count - 1, k + reach); i++) {
      if (!isSeen(i)) continue;
      local += residual[i]! * residual[i]!;
      n++;
    }
    if (grown * local > mostLocal * base * n) each[k] = (grown * local) / n;
  }
  return { noise: base, each };
}

/** Sum of the squares of some residuals, their number, and how many of them that are alike count as one. */
function scatterOf(residual: Float64Array, count: number, use: (k: number) => boolean) {
  let squares = 0;
  let seen = 0;
  const products = new Float64Array(reach + 1);
  for (let k = 0; k < count; k++) {
    if (!use(k)) continue;
    squares += residual[k]! * residual[k]!;
    seen++;
    for (let lag = 1; lag <= reach && lag <= k; lag++) {
      if (use(k - lag)) products[lag]! += residual[k]! * residual[k - lag]!;
    }
  }
  if (!(squares > 0)) return { squares, seen, alike: 1 };
  let alike = 1;
  for (let lag = 1; lag <= reach; lag++) alike += 2 * (1 - lag / (reach + 1)) * (products[lag]! / squares);
  // A first-order filter reaches further than a few means: (1 + r) / (1 - r) of them count as one.
  const r = Math.min(products[1]! / squares, mostCorrelation);
  alike = Math.max(alike, r > leastCorrelation ? (1 + r) / (1 - r) : 1);
  return { squares, seen, alike: alike < mostAlike ? 1 : alike };
}

/** [-] Number of parameters, less what the expectations determine of them: the trace of the projection. */
function takenUp({ size, columns, covariance }: Linearised, weight: Float64Array): number {
  let trace = 0;
  for (let q = 0; q < size; q++) {
    const weighted = columns[q]!.map((d, k) => d * weight[k]! * weight[k]!);
    for (let r = q; r < size; r++) {
      const c = covariance[q * size + r]!;
      if (c === 0) continue;
      trace += (q === r ? 1 : 2) * c * dot(weighted, columns[r]!);
    }
  }
  return trace;
}

/** How the area of a curve depends on the means. */
export interface Influence {
  /** [s] Of each mean on the area, all else known. */
  readonly own: Float64Array;
  /** [s] Of each mean on the area as it comes out of the fit. */
  readonly all: Float64Array;
  /** [signal unit s] Area of the curve between the limits, above 0. */
  readonly inside: number;
  /** [(signal unit s)²] What the line leaves open by the noise of the means. */
  readonly line: number;
  /** [(signal unit s)²] What the expected level of the line brings in. */
  readonly expected: number;
}

/** The influence of the means on what a curve gets of the signal between limits. */
export function influenceOf(
  { size, firsts, columns, curves, width, covariance }: Linearised,
  { time, count, weight, slack }: FitWindow,
  c: number,
  start: number,
  end: number,
): Influence {
  const own = new Float64Array(count);
  const mine = curves[c]!;
  let inside = 0;
  for (let k = 0; k < count; k++) {
    if (time[k]! < start || time[k]! > end) continue;
    inside += width[k]! * Math.abs(mine[k]!);
    let whole = 0;
    for (const part of curves) whole += Math.abs(part[k]!);
    own[k] = width[k]! * (curves.length === 1 ? 1 : whole > 0 ? Math.abs(mine[k]!) / whole : 0);
  }
  const after = firsts[c + 1] ?? size - 2;
  const others = own.map((o, k) => (time[k]! >= start && time[k]! <= end ? width[k]! - o : 0));
  const slopes = columns.map((column, q) => (q >= firsts[c]! && q < after ? dot(column, others) : -dot(column, own)));
  const through = multiply(covariance, slopes, size);
  const byFit = new Float64Array(count);
  columns.forEach((column, q) => subtract(byFit, column, -through[q]!));
  const all = own.map((o, k) => o + weight[k]! * weight[k]! * byFit[k]!);
  const [a, b] = [size - 2, size - 1];
  const [ga, gb] = [slopes[a]!, slopes[b]!];
  const line =
    ga * ga * covariance[a * size + a]! + 2 * ga * gb * covariance[a * size + b]! + gb * gb * covariance[b * size + b]!;
  // The fit lets the level move by more than the uncertainty of the baseline.
  const expected = (through[a]! * through[a]! + through[b]! * through[b]!) / square(slack * slackOfBaseline);
  return { own, all, inside, line, expected };
}

/** A way in which the signal may depart from the fit. */
export interface Departure {
  /** [signal unit] The departure, of size 1. */
  readonly by: Float64Array;
  /** [-] Its mean square size, from what is expected and what the residuals say. */
  readonly size: number;
}

/** What is left of a departure of a usual size once the residuals are known. */
export function departure(
  { size, columns, residual, covariance }: Linearised,
  { count, weight }: FitWindow,
  variances: MeanVariances,
  by: Float64Array,
  { usual, strong, share }: Expected,
): Departure {
  const squared = weight.map((w) => w * w);
  const weighted = by.map((d, k) => d * squared[k]!);
  const through = multiply(
    covariance,
    columns.map((column) => dot(column, weighted)),
    size,
  );
  const left = by.slice();
  columns.forEach((column, q) => subtract(left, column, through[q]!));
  let information = 0;
  let seen = 0;
  let scatter = 0;
  for (let k = 0; k < count; k++) {
    const l = squared[k]! * left[k]!;
    information += l * by[k]!;
    seen += l * residual[k]!;
    scatter += l * l * variances.each[k]!;
  }
  if (!(information > 0 && scatter > 0)) return { by, size: usual * usual };
  const found = seen / information;
  const open = scatter / (information * information);
  const [mostly, sometimes] = [usual, strong].map((spread) => {
    const expected = spread * spread;
    const shrunk = expected / (expected + open);
    return { seen: expected + open, size: shrunk * shrunk * found * found + shrunk * open };
  }) as [Case, Case];
  // How much likelier the found size is under the wide expectation.
  const times =
    (share / (1 - share)) *
    Math.sqrt(mostly.seen / sometimes.seen) *
    exp(Math.min(50, ((1 / mostly.seen - 1 / sometimes.seen) * found * found) / 2));
  return { by, size: (mostly.size + times * sometimes.size) / (1 + times) };
}

/** How large a departure is expected to be: of one size as a rule, of another in a share of the cases. */
export interface Expected {
  readonly usual: number;
  readonly strong: number;
  readonly share: number;
}

/** One expectation: variance of what is found under it, mean square size after it was found. */
interface Case {
  readonly seen: number;
  readonly size: number;
}

/** Sum of the products of two columns. */
export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}

/** Takes a multiple of a column off another. */
function subtract(from: Float64Array, column: Float64Array, times: number): void {
  for (let k = 0; k < from.length; k++) from[k]! -= times * column[k]!;
}

function square(x: number): number {
  return x * x;
}

function multiply(matrix: Float64Array, vector: readonly number[], size: number): number[] {
  return vector.map((_, q) => {
    let sum = 0;
    for (let r = 0; r < size; r++) sum += matrix[q * size + r]! * vector[r]!;
    return sum;
  });
}
