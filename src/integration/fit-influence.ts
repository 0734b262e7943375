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

/** [-] Up to this the noise of the run may seem to wander where it does not. */
const usualColour = 3.3;

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
export function variancesOf(lines: Linearised, { count, noise, weight, slowColour }: FitWindow): MeanVariances {
  const all = scatterOf(lines.residual, weight, 0);
  const low = scatterOf(lines.residual, weight, quiet / noise);
  const some = low.seen > fewestQuiet ? low : all;
  const left = Math.max(0.1, 1 - takenUp(lines, weight) / Math.max(1, all.seen));
  // A fit takes slow noise up into curves and line, so that its residuals do not show it: there the run knows better.
  const slow = (noise * noise * slowColour) / usualColour;
  const seen = (noiseCounts * noise * noise + some.alike * some.squares) / (noiseCounts + left * some.seen);
  const base = Math.max(seen, slow);
  const grown = all.alike / left;
  const each = new Float64Array(count).fill(base);
  let local = 0;
  let n = 0;
  for (let k = -reach; k < count; k++) {
    // The means from `reach` before to `reach` after.
    const next = k + reach;
    const last = k - reach - 1;
    if (next < count && weight[next]! > 0) {
      local += all.kept[next]! * all.kept[next]!;
      n++;
    }
    if (last >= 0 && weight[last]! > 0) {
      local -= all.kept[last]! * all.kept[last]!;
      n--;
    }
    if (k >= 0 && grown * local > mostLocal * base * n) each[k] = (grown * local) / n;
  }
  return { noise: base, each };
}

/** Residuals of more than a weight. */
interface Scatter {
  /** [signal unit] The residuals, 0 for the others. */
  readonly kept: Float64Array;
  readonly squares: number;
  readonly seen: number;
  /** [-] How many that are alike count as one. */
  readonly alike: number;
}

function scatterOf(residual: Float64Array, weight: Float64Array, above: number): Scatter {
  const kept = new Float64Array(residual.length);
  let squares = 0;
  let seen = 0;
  for (let k = 0; k < kept.length; k++) {
    if (!(weight[k]! > above)) continue;
    kept[k] = residual[k]!;
    squares += residual[k]! * residual[k]!;
    seen++;
  }
  if (!(squares > 0)) return { kept, squares, seen, alike: 1 };
  let alike = 1;
  let neighbours = 0;
  for (let lag = 1; lag <= reach; lag++) {
    let product = 0;
    for (let k = lag; k < kept.length; k++) product += kept[k]! * kept[k - lag]!;
    if (lag === 1) neighbours = product / squares;
    alike += 2 * (1 - lag / (reach + 1)) * (product / squares);
  }
  // A first-order filter reaches further than a few means: (1 + r) / (1 - r) of them count as one.
  const r = Math.min(neighbours, mostCorrelation);
  alike = Math.max(alike, r > leastCorrelation ? (1 + r) / (1 - r) : 1);
  return { kept, squares, seen, alike: alike < mostAlike ? 1 : alike };
}

/** [-] Number of parameters, less what the expectations determine of them: the trace of the projection. */
function takenUp({ size, columns, covariance }: Linearised, weight: Float64Array): number {
  let trace = 0;
  for (let q = 0; q < size; q++) {
    const weighted = columns[q]!.slice();
    for (let k = 0; k < weighted.length; k++) weighted[k]! *= weight[k]! * weight[k]!;
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

/** Between which limits [min] a curve gets its area, and how. */
export interface Reach {
  readonly start: number;
  readonly end: number;
  /** [signal unit] Noise beside which the curves are weighed; 0 when the signal alone counts. */
  readonly noise: number;
  /** [s times area over parameter] Derivatives of each curve's area when what lies outside counts too. */
  readonly whole: readonly (readonly number[])[] | undefined;
}

/** The influence of the means on the area a curve gets, as `shareArea` gives it. */
export function influenceOf(
  { size, firsts, columns, curves, width, covariance }: Linearised,
  { time, count, weight, slack }: FitWindow,
  c: number,
  { start, end, noise, whole: outside }: Reach,
): Influence {
  const own = new Float64Array(count);
  const mine = curves[c]!;
  let inside = 0;
  for (let k = 0; k < count; k++) {
    if (time[k]! < start || time[k]! > end) continue;
    inside += width[k]! * Math.abs(mine[k]!);
    let whole = 0;
    for (const part of curves) whole += Math.abs(part[k]!);
    const counts = noise > 0 ? (whole * whole) / (whole * whole + noise * noise) : 1;
    own[k] = width[k]! * counts * (curves.length === 1 ? 1 : whole > 0 ? Math.abs(mine[k]!) / whole : 0);
  }
  const after = firsts[c + 1] ?? size - 2;
  const others = own.map((o, k) => (time[k]! >= start && time[k]! <= end ? width[k]! - o : 0));
  const slopes = columns.map((column, q) => {
    if (q < firsts[c]! || q >= after) return -dot(column, own);
    return outside ? outside[c]![q - firsts[c]!]! - dot(column, own) : dot(column, others);
  });
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
  const weighted = by.slice();
  for (let k = 0; k < count; k++) weighted[k]! *= weight[k]! * weight[k]!;
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
    const l = weight[k]! * weight[k]! * left[k]!;
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
