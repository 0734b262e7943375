import { fitLeastSquares } from '../numeric/index.js';
import { curveRules, type CurveKind } from './curve-kinds.js';
import type { FitWindow } from './fit-window.js';

/** A curve of a fit. */
export interface Curve {
  readonly kind: CurveKind;
  /** Place in the order of the peaks it was begun for, or -1 for one that was revealed. */
  readonly peak: number;
  /** 1 for a peak that points up, -1 for one that points down; areas and heights are kept positive. */
  readonly sign: 1 | -1;
  /** [min] Apex and standard deviation as they were seen before the fit. */
  readonly apex: number;
  readonly sigma: number;
  readonly parameters: readonly number[];
}

/** Curves over a straight line, fitted together. */
export interface CurveFit {
  readonly curves: readonly Curve[];
  /** [signal unit] What the line adds to the baseline in the middle of the window, and more of it at its end. */
  readonly line: readonly [number, number];
  /** Weighted sum of squares, expectations included. */
  readonly squares: number;
  /** [-] Root mean square of the residuals over what they may be. */
  readonly misfit: number;
  /** Covariance of the parameters, curve after curve, then the line, before the misfit is counted; absent when it cannot be known. */
  readonly covariance: Float64Array | undefined;
}

/** [-] tau over sigma to expect, and how far a peak may be from it, and from its neighbour. */
const usualTailing = 0.4;
const tailingSpread = 1.5;
const neighbourTailing = 0.5;
/** [-] Relative difference of the widths of neighbours to expect. */
const neighbourWidth = 0.25;
/** How long to go on: until nothing changes, or only until it is clear what a fit will be worth. */
const care = {
  full: { iterations: 30, reduction: 1e-5 },
  trial: { iterations: 30, reduction: 1e-3 },
} as const;

/** A curve of a kind for a peak as it was seen. */
export function curveFor(kind: CurveKind, peak: number, height: number, apex: number, sigma: number): Curve {
  return {
    kind,
    peak,
    sign: height < 0 ? -1 : 1,
    apex,
    sigma,
    parameters: curveRules[kind].start(Math.abs(height), apex, sigma),
  };
}

/** [signal unit] Adds a curve, with its sign, at the first `count` times. */
export function addCurve(
  { kind, sign, parameters }: Curve,
  time: Float64Array,
  count: number,
  out: Float64Array,
): void {
  const signed = sign === 1 ? parameters : [-parameters[0]!, ...parameters.slice(1)];
  curveRules[kind].family.evaluate(time, 0, count, signed, 0, out);
}

/** Where the parameters of each curve, and of the line, stand among all. */
interface Layout {
  readonly firsts: readonly number[];
  readonly line: number;
  readonly size: number;
  readonly start: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

function layOut(curves: readonly Curve[]): Layout {
  const firsts: number[] = [];
  let line = 0;
  for (const { parameters } of curves) {
    firsts.push(line);
    line += parameters.length;
  }
  const size = line + 2;
  const start = new Float64Array(size);
  const lower = new Float64Array(size).fill(-Infinity);
  const upper = new Float64Array(size).fill(Infinity);
  curves.forEach(({ kind, parameters, apex, sigma }, i) => {
    const first = firsts[i]!;
    start.set(parameters, first);
    lower[first] = 0;
    lower.set(curveRules[kind].lower(apex, sigma), first + 1);
    upper.set(curveRules[kind].upper(apex, sigma), first + 1);
  });
  return { firsts, line, size, start, lower, upper };
}

/**
 * Fits curves and a line to a window by weighted least squares. What the data
 * leave open is filled by expectation: the line stays near the baseline, tails are
 * alike, and so are the widths of neighbours.
 *
 * @returns Nothing when the curves cannot even begin there.
 */
export function fitCurves(
  window: FitWindow,
  curves: readonly Curve[],
  how: keyof typeof care = 'full',
): CurveFit | undefined {
  const { time, value, count, weight, slack, middle, half } = window;
  const { firsts, line, size, start, lower, upper } = layOut(curves);
  const rows = count + 2 + 3 * curves.length + 2 * (curves.length - 1);
  const at = time.subarray(0, rows);
  const model = new Float64Array(count);
  const signed = new Float64Array(size);
  const evaluate = (p: Float64Array, residuals: Float64Array, jacobian?: Float64Array): void => {
    jacobian?.fill(0);
    signed.set(p);
    curves.forEach(({ sign }, i) => (signed[firsts[i]!]! *= sign));
    for (let k = 0; k < count; k++) model[k] = p[line]! + (p[line + 1]! * (time[k]! - middle)) / half;
    curves.forEach(({ kind }, i) => {
      curveRules[kind].family.evaluate(at, 0, count, signed, firsts[i]!, model, jacobian);
    });
    for (let k = 0; k < count; k++) residuals[k] = (model[k]! - value[k]!) * weight[k]!;
    if (jacobian) {
      for (let q = 0; q < line; q++) for (let k = 0; k < count; k++) jacobian[q * rows + k]! *= weight[k]!;
      curves.forEach(({ sign }, i) => {
        const column = firsts[i]! * rows;
        if (sign < 0) for (let k = 0; k < count; k++) jacobian[column + k]! *= -1;
      });
      for (let k = 0; k < count; k++) {
        jacobian[line * rows + k] = weight[k]!;
        jacobian[(line + 1) * rows + k] = (weight[k]! * (time[k]! - middle)) / half;
      }
    }
    let row = count;
    /** One expectation: `miss` over `spread` is a residual, with its derivatives by some parameters. */
    const expect: Expect = (miss, spread, by) => {
      residuals[row] = miss / spread;
      if (jacobian) for (const [q, slope] of by) jacobian[q * rows + row] = slope / spread;
      row++;
    };
    expect(p[line]!, slack, [[line, 1]]);
    expect(p[line + 1]!, slack, [[line + 1, 1]]);
    expectOfShapes(curves, firsts, p, expect);
  };
  const { iterations, reduction } = care[how];
  const tolerances = { reduction, step: 1e-4 };
  const fit = fitLeastSquares({
    evaluate,
    start,
    lower,
    upper,
    points: rows,
    maxIterations: iterations,
    tolerances,
  });
  if (fit.status === 'failed') return undefined;
  const { parameters: p, residuals, residualSumOfSquares, unscaledCovariance } = fit;
  let squares = 0;
  for (let k = 0; k < count; k++) squares += residuals[k]! * residuals[k]!;
  return {
    curves: curves.map((curve, i) => ({
      ...curve,
      parameters: [...p.subarray(firsts[i], firsts[i]! + curve.parameters.length)],
    })),
    line: [p[line]!, p[line + 1]!],
    squares: residualSumOfSquares,
    misfit: Math.sqrt(squares / Math.max(1, count - size)),
    covariance: unscaledCovariance,
  };
}

type Slopes = readonly (readonly [parameter: number, slope: number])[];
type Expect = (miss: number, spread: number, by: Slopes) => void;

/** What is expected of the shapes: an ordinary tail, tails alike, widths alike. As many for any curves of a number. */
function expectOfShapes(curves: readonly Curve[], firsts: readonly number[], p: Float64Array, expect: Expect): void {
  /** tau over sigma of a curve, with its slopes times `sign`. */
  const ratio = (i: number, sign: 1 | -1): { value: number; by: Slopes } | undefined => {
    if (!curveRules[curves[i]!.kind].exponential) return undefined;
    const s = firsts[i]! + 2;
    const value = p[s + 1]! / p[s]!;
    return {
      value,
      by: [
        [s + 1, sign / p[s]!],
        [s, (-sign * value) / p[s]!],
      ],
    };
  };
  for (let i = 0; i < curves.length; i++) {
    const own = ratio(i, 1);
    const usual = curves[i]!.kind === 'fronting' ? -usualTailing : usualTailing;
    if (own === undefined) expect(0, 1, []);
    else expect(own.value - usual, tailingSpread, own.by);
    const habits = curveRules[curves[i]!.kind].usual?.(curves[i]!.sigma);
    for (let h = 0; h < 2; h++) {
      const habit = habits?.[h];
      if (habit === undefined) expect(0, 1, []);
      else expect(p[firsts[i]! + habit[0]]! - habit[1], habit[2], [[firsts[i]! + habit[0], 1]]);
    }
    if (i === 0) continue;
    const other = ratio(i - 1, -1);
    if (own === undefined || other === undefined) expect(0, 1, []);
    else expect(own.value - other.value, neighbourTailing, [...own.by, ...other.by]);
    const [a, b] = [firsts[i - 1]! + 2, firsts[i]! + 2];
    const [perA, perB] = [curveRules[curves[i - 1]!.kind].perSigma, curveRules[curves[i]!.kind].perSigma];
    const [sa, sb] = [p[a]! * perA, p[b]! * perB];
    const mean = (sa + sb) / 2;
    expect((sb - sa) / mean, neighbourWidth, [
      [b, (sa / mean / mean) * perB],
      [a, (-sb / mean / mean) * perA],
    ]);
  }
}
