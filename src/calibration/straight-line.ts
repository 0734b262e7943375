import { solveLeastSquares } from '../numeric/index.js';
import type { Calibration } from './calibration.js';

/** A line by its middle and slope, in the words of a calibration, from which it comes back. */
export interface StraightLine extends Pick<
  Calibration,
  'residualStandardDeviation' | 'degreesOfFreedom' | 'meanAmount' | 'meanResponse' | 'sumOfSquares'
> {
  readonly slope: number;
}

/** A value read from the line. */
export interface ReadBack {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Share of the responses of the sample in its square. */
  readonly shareOfResponses: number;
  /** Fieller limits; absent when the slope is not significantly different from 0. */
  readonly fieller?: readonly [from: number, to: number];
}

/** Unweighted least squares of two or more different x. */
export function fitStraightLine(x: Float64Array, y: Float64Array): StraightLine {
  const fit = solveLeastSquares([x.map(() => 1), x], y);
  return {
    slope: fit.coefficients[1]!,
    residualStandardDeviation: Math.sqrt(fit.residualSumOfSquares / fit.degreesOfFreedom),
    degreesOfFreedom: fit.degreesOfFreedom,
    meanAmount: average(x),
    meanResponse: average(y),
    sumOfSquares: 1 / fit.unscaledCovariance[3]!,
  };
}

/** What the line gives at x. */
export function lineAt({ slope, meanAmount, meanResponse }: StraightLine, x: number): number {
  return meanResponse + slope * (x - meanAmount);
}

/** Share of its own response in what the line gives at x, when x is one of its points. */
export function leverageAt({ degreesOfFreedom, meanAmount, sumOfSquares }: StraightLine, x: number): number {
  return 1 / (degreesOfFreedom + 2) + ((x - meanAmount) / sumOfSquares) * (x - meanAmount);
}

/** The line through zero and what `line` gives at x, as uncertain as that. */
export function throughZero(line: StraightLine, x: number): StraightLine {
  return {
    ...line,
    slope: lineAt(line, x) / x,
    degreesOfFreedom: Infinity,
    meanAmount: 0,
    meanResponse: 0,
    sumOfSquares: (x / leverageAt(line, x)) * x,
  };
}

/**
 * The x at which the line gives `y`, a mean of m responses; m = Infinity for an
 * exactly known y. Uncertainty by the delta formula and the limits of E. C.
 * Fieller (1954), J. R. Stat. Soc. B 16, 175-185, with the factor t.
 */
export function readBack(line: StraightLine, y: number, m: number, t: number): ReadBack {
  const middle = line.meanAmount;
  const distance = (y - line.meanResponse) / line.slope;
  const perSlope = line.residualStandardDeviation / line.slope;
  const square = perSlope * perSlope;
  const ofNumerator = square / m + square / (line.degreesOfFreedom + 2);
  const ofSlope = square / line.sumOfSquares;
  const variance = ofNumerator + distance * ofSlope * distance;
  const rest = 1 - t * t * ofSlope;
  const half = t * Math.sqrt(rest * ofNumerator + distance * ofSlope * distance);
  const read = {
    value: middle + distance,
    standardUncertainty: Math.sqrt(variance),
    shareOfResponses: variance === 0 ? 0 : square / m / variance,
  };
  return rest > 0 ? { ...read, fieller: [middle + (distance - half) / rest, middle + (distance + half) / rest] } : read;
}

function average(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value / values.length, 0);
}
