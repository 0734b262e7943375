import { solveLeastSquares } from '../numeric/index.js';

/** What reading back needs of a line y = intercept + slope x; comes out of a calibration, also by way of JSON. */
export interface LineForPrediction {
  readonly slope: number;
  /** Residual standard deviation, n - 2 degrees of freedom. */
  readonly s: number;
  readonly n: number;
  readonly meanX: number;
  readonly meanY: number;
  /** Sum of squared distances of x from its mean. */
  readonly sxx: number;
}

/** A fitted line. */
export interface StraightLine extends LineForPrediction {
  readonly intercept: number;
  /** Of intercept and slope, 2 x 2, row by row. */
  readonly covariance: Float64Array;
  readonly residualSumOfSquares: number;
}

/** A division whose numerator and denominator are uncertain and independent: offset + numerator / denominator. */
export interface UncertainDivision {
  readonly offset: number;
  readonly numerator: number;
  /** Variance of the numerator from the responses of the sample. */
  readonly responseVariance: number;
  /** Variance of the numerator from the line. */
  readonly lineVariance: number;
  readonly denominator: number;
  readonly denominatorVariance: number;
}

/** A value read from the line. */
export interface ReadBack {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Share of the responses of the sample in its square. */
  readonly shareOfResponses: number;
  /** Fieller limits; absent when the divisor is not significantly different from 0. */
  readonly fieller?: readonly [from: number, to: number];
}

/** Unweighted least squares; of no use when all x are equal. */
export function fitStraightLine(x: Float64Array, y: Float64Array): StraightLine {
  const fit = solveLeastSquares([x.map(() => 1), x], y);
  const variance = fit.residualSumOfSquares / fit.degreesOfFreedom;
  return {
    intercept: fit.coefficients[0]!,
    slope: fit.coefficients[1]!,
    s: Math.sqrt(variance),
    n: x.length,
    meanX: average(x),
    meanY: average(y),
    sxx: 1 / fit.unscaledCovariance[3]!,
    covariance: fit.unscaledCovariance.map((value) => value * variance),
    residualSumOfSquares: fit.residualSumOfSquares,
  };
}

/** Share of its own response in what the line gives at x, when x is one of its points. */
export function leverage({ n, meanX, sxx }: LineForPrediction, x: number): number {
  return 1 / n + ((x - meanX) / sxx) * (x - meanX);
}

/** The x at which the line gives `y`, a mean of m responses; m = Infinity for an exactly known y. */
export function againstLine(line: LineForPrediction, y: number, m: number): UncertainDivision {
  const variance = line.s * line.s;
  return {
    offset: line.meanX,
    numerator: y - line.meanY,
    responseVariance: variance / m,
    lineVariance: variance / line.n,
    denominator: line.slope,
    denominatorVariance: variance / line.sxx,
  };
}

/** The amount that gives `y` when the response is in proportion to it, as the line has it at x. */
export function againstStandard(line: LineForPrediction, y: number, m: number, x: number): UncertainDivision {
  const variance = line.s * line.s;
  return {
    offset: 0,
    numerator: y,
    responseVariance: variance / m,
    lineVariance: 0,
    denominator: (line.meanY + line.slope * (x - line.meanX)) / x,
    denominatorVariance: (variance * leverage(line, x)) / x / x,
  };
}

/**
 * Variances by the delta formula and the limits of E. C. Fieller (1954),
 * J. R. Stat. Soc. B 16, 175-185, with the factor t.
 */
export function divide(parts: UncertainDivision, t: number): ReadBack {
  const { offset, numerator, denominator } = parts;
  const scaled = (variance: number): number => variance / denominator / denominator;
  const ratio = numerator / denominator;
  const ofResponses = scaled(parts.responseVariance);
  const ofNumerator = ofResponses + scaled(parts.lineVariance);
  const relative = scaled(parts.denominatorVariance);
  const variance = ofNumerator + ratio * relative * ratio;
  const g = t * t * relative;
  const half = t * Math.sqrt((1 - g) * ofNumerator + ratio * relative * ratio);
  const read = {
    value: offset + ratio,
    standardUncertainty: Math.sqrt(variance),
    shareOfResponses: variance === 0 ? 0 : ofResponses / variance,
  };
  return g < 1 ? { ...read, fieller: [offset + (ratio - half) / (1 - g), offset + (ratio + half) / (1 - g)] } : read;
}

function average(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value / values.length, 0);
}
