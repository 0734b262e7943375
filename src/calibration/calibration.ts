import type { Warning } from '../core/index.js';

/**
 * A fitted parameter.
 *
 * @public
 */
export interface FittedParameter {
  /** [unit of the parameter] Estimate. */
  readonly value: number;
  /** [unit of the parameter] One standard uncertainty. */
  readonly standardUncertainty: number;
  /** [unit of the parameter] Ends of the interval at the stated confidence. */
  readonly interval: readonly [from: number, to: number];
}

/**
 * One point beside the line.
 *
 * @public
 */
export interface FittedPoint {
  /** [-] Place among the points given, counted from 1. */
  readonly row: number;
  /** Name of the injection, when given. */
  readonly injection?: string;
  /** Name of the level, when given. */
  readonly level?: string;
  /** [concentration unit] Concentration of the solution injected, when given. */
  readonly concentration?: number;
  /** [volume unit] Volume injected, when given. */
  readonly volume?: number;
  /** [amount unit] Amount injected. */
  readonly amount: number;
  /** [response unit] What was measured. */
  readonly response: number;
  /** [response unit] What the line gives. */
  readonly fitted: number;
  /** [response unit] Measured minus line. */
  readonly residual: number;
  /** [%] Residual in percent of the line; absent when the line is 0 there. */
  readonly relativeResidual?: number;
  /** [%] How far the amount read from the response lies from the true one, in percent of it; absent for an amount or a slope of 0. */
  readonly relativeError?: number;
  /** [-] Share of its own response in the fitted value, 0 to 1; absent for a point left out. */
  readonly leverage?: number;
}

/**
 * The intercept of one standard injected at several volumes, read as a volume.
 *
 * @public
 */
export interface VolumeOffset {
  /** [volume unit] Intercept / slope: the injected volume acts as if it were larger by this. */
  readonly value: number;
  /** [volume unit] One standard uncertainty, by the delta formula. */
  readonly standardUncertainty: number;
  /** [volume unit] Ends of the interval at the confidence of the calibration; absent when the slope is not significant. */
  readonly interval?: readonly [from: number, to: number];
  /**
   * Whether that interval leaves out 0: then every injected volume has this
   * error, or every run carries a response that is not of the standard.
   */
  readonly significant: boolean;
  /** [concentration unit] Concentration of the standard. */
  readonly concentration: number;
}

/**
 * A fitted line of response against amount. Plain data: it can be stored as
 * JSON and used later.
 *
 * @public
 */
export interface Calibration {
  /** Name of the component, when given. */
  readonly component?: string;
  /** The curve. */
  readonly model: 'straight line';
  /** How the points were weighted. */
  readonly weighting: 'none';
  /** What the amounts are. */
  readonly quantity: 'amount injected' | 'concentration';
  /** What was measured on the peaks. */
  readonly responseKind: 'area' | 'height';
  /** Units of the numbers. */
  readonly units: {
    /** Unit of the amounts, for example `'ng'`. */
    readonly amount: string;
    /** Unit of the responses, for example `'mAU s'`. */
    readonly response: string;
    /** Unit of the slope, for example `'mAU s/ng'`. */
    readonly slope: string;
    /** Unit of concentrations, when any were stated. */
    readonly concentration?: string;
    /** Unit of volumes. */
    readonly volume: string;
  };
  /** [response unit / amount unit] Slope. */
  readonly slope: FittedParameter;
  /** [response unit] Intercept. */
  readonly intercept: FittedParameter;
  /** [response unit² / amount unit] Covariance of intercept and slope. */
  readonly covariance: number;
  /** [response unit] Residual standard deviation about the line. */
  readonly residualStandardDeviation: number;
  /** [-] Number of points in the fit minus 2. */
  readonly degreesOfFreedom: number;
  /** [-] Confidence of all intervals, for example 0.95. */
  readonly confidence: number;
  /** [-] Student's factor of the two-sided intervals. */
  readonly coverageFactor: number;
  /** [amount unit] Mean amount of the points in the fit. */
  readonly meanAmount: number;
  /** [response unit] Mean response of the points in the fit. */
  readonly meanResponse: number;
  /** [amount unit²] Sum of the squared distances of the amounts from their mean. */
  readonly sumOfSquares: number;
  /** [amount unit] Lowest and highest amount in the fit. */
  readonly range: readonly [from: number, to: number];
  /** [volume unit] Lowest and highest volume in the fit, when volumes were stated. */
  readonly volumeRange?: readonly [from: number, to: number];
  /** The points in the fit, in the order given. */
  readonly points: readonly FittedPoint[];
  /** The points left out, beside the line they had no part in. */
  readonly excluded: readonly (FittedPoint & {
    /** Why. */
    readonly reason: string;
  })[];
  /** The intercept as a volume; only for one standard injected at several volumes. */
  readonly volumeOffset?: VolumeOffset;
  /** What to doubt. */
  readonly warnings: readonly Warning[];
  /** Coefficient of determination; absent when all responses are equal. */
  readonly rSquared?: {
    /** [-] Share of the variance of the responses that the line takes up. */
    readonly value: number;
    /** What it does not say. */
    readonly remark: string;
  };
}
