import { solveLeastSquares } from '../numeric/index.js';

/** What a straight line y = intercept + slope x came out as. */
export interface StraightLine {
  readonly intercept: number;
  readonly slope: number;
  /** Residual standard deviation, n - 2 degrees of freedom. */
  readonly s: number;
  readonly n: number;
  readonly meanX: number;
  readonly meanY: number;
  /** Sum of squared distances of x from its mean. */
  readonly sxx: number;
}

/** What inverse prediction needs of a calibration, which may come back from JSON. */
export type LineForPrediction = Omit<StraightLine, 'intercept'>;

/** A value read backwards from the line. */
export interface ReadBack {
  readonly value: number;
  /** The part of the squared uncertainty from the mean of m responses. */
  readonly varianceOfResponses: number;
  /** The part from the line. */
  readonly varianceOfLine: number;
  /** Fieller limits; absent when the divisor is not significantly different from 0. */
  readonly fieller?: readonly [from: number, to: number];
}

/** Unweighted least squares; `undefined` when all x are equal. */
export function fitStraightLine(
  x: Float64Array,
  y: Float64Array,
): (StraightLine & { readonly covariance: Float64Array; readonly residuals: Float64Array }) | undefined {
  const fit = solveLeastSquares([x], y, { intercept: true });
  if (fit.status !== 'solved') return undefined;
  const variance = fit.residualSumOfSquares / fit.degreesOfFreedom;
  return {
    intercept: fit.intercept,
    slope: fit.coefficients[0]!,
    s: Math.sqrt(variance),
    n: x.length,
    meanX: average(x),
    meanY: average(y),
    sxx: 1 / fit.unscaledCovariance[3]!,
    covariance: fit.unscaledCovariance.map((value) => value * variance),
    residuals: fit.residuals,
  };
}

/** Uncertainty of the line itself at x, squared. */
export function lineVariance(line: LineForPrediction, x: number): number {
  const distance = x - line.meanX;
  return line.s * line.s * (1 / line.n + (distance / line.sxx) * distance);
}

/**
 * The x at which the line gives `y`, a mean of m responses; m = Infinity for an
 * exactly known y. Parts of the variance by the delta formula, and the limits
 * of E. C. Fieller (1954), J. R. Stat. Soc. B 16, 175-185, with the factor t.
 */
export function readBack(line: LineForPrediction, y: number, m: number, t: number): ReadBack {
  const { slope, s, n, sxx, meanX, meanY } = line;
  const distance = (y - meanY) / slope;
  const perSlope = s / slope;
  const value = meanX + distance;
  const varianceOfResponses = (perSlope * perSlope) / m;
  const varianceOfLine = perSlope * perSlope * (1 / n + (distance / sxx) * distance);
  const g = (t * perSlope * (t * perSlope)) / sxx;
  if (!(g < 1)) return { value, varianceOfResponses, varianceOfLine };
  const half = Math.abs(t * perSlope) * Math.sqrt((1 - g) * (1 / m + 1 / n) + (distance / sxx) * distance);
  const fieller = [meanX + (distance - half) / (1 - g), meanX + (distance + half) / (1 - g)] as const;
  return { value, varianceOfResponses, varianceOfLine, fieller };
}

/** Quotient of two independent quantities, with the same two kinds of limits. */
export function readRatio(
  numerator: number,
  varianceOfNumerator: number,
  denominator: number,
  varianceOfDenominator: number,
  t: number,
): ReadBack {
  const value = numerator / denominator;
  const varianceOfResponses = varianceOfNumerator / denominator / denominator;
  const varianceOfLine = (value * value * varianceOfDenominator) / denominator / denominator;
  const g = (t * t * varianceOfDenominator) / denominator / denominator;
  if (!(g < 1)) return { value, varianceOfResponses, varianceOfLine };
  const half = t * Math.sqrt((1 - g) * varianceOfResponses + varianceOfLine);
  return { value, varianceOfResponses, varianceOfLine, fieller: [(value - half) / (1 - g), (value + half) / (1 - g)] };
}

function average(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value / values.length;
  return sum;
}
