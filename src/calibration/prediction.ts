import type { Warning } from '../core/index.js';

/**
 * An interval and how it was made.
 *
 * @public
 */
export interface PredictionInterval {
  /** [unit of the value] Lower end; may be negative. */
  readonly from: number;
  /** [unit of the value] Upper end. */
  readonly to: number;
  /** `'Fieller'`: exact for a straight line; `'delta'`: value ± factor x standard uncertainty. */
  readonly method: 'Fieller' | 'delta';
}

/**
 * A value read from a calibration, with what is uncertain about it.
 *
 * @public
 */
export interface PredictedQuantity {
  /** What it is: the name it has in the prediction. */
  readonly of: 'amount' | 'concentration' | 'undiluted' | 'content';
  /** [unit] Value. */
  readonly value: number;
  /** Unit of value, uncertainty and interval. */
  readonly unit: string;
  /** [unit] One standard uncertainty. */
  readonly standardUncertainty: number;
  /** The interval at the stated confidence; absent when the method chosen gives no finite one. */
  readonly interval?: PredictionInterval;
  /** Both intervals, for comparison; that of Fieller is absent when it is not finite. */
  readonly intervals: {
    /** Value ± factor x standard uncertainty. */
    readonly delta: PredictionInterval;
    /** Exact limits of the line; measurement only. */
    readonly Fieller?: PredictionInterval;
  };
}

/**
 * One line of an uncertainty budget.
 *
 * @public
 */
export interface BudgetEntry {
  /** Where it comes from. */
  readonly source: 'responses of the sample' | 'calibration line' | keyof PreparationUncertainties;
  /** [%] Share of the square of the standard uncertainty; 0 when that is 0. */
  readonly share: number;
}

/**
 * Relative standard uncertainties of what was done before the measurement.
 *
 * @public
 */
export interface PreparationUncertainties {
  /** [%] Of the purity of the standard. */
  readonly purity?: number;
  /** [%] Of weighing. */
  readonly weighing?: number;
  /** [%] Of flasks and pipettes. */
  readonly glassware?: number;
  /** [%] Of the preparation of the sample. */
  readonly preparation?: number;
  /** [%] Of the recovery. */
  readonly recovery?: number;
}

/**
 * An amount read from a calibration, or why there is none.
 *
 * @public
 */
export type Prediction = DeterminedPrediction | UndeterminedPrediction;

/**
 * An amount read from a calibration.
 *
 * @public
 */
export interface DeterminedPrediction extends PredictionBasis {
  /** Where the mean response lies against the range of the standards; outside it the line is extrapolated. */
  readonly outcome: 'in range' | 'above range' | 'below range';
  /** How the intercept was understood. */
  readonly intercept: 'background' | 'injected volume';
  /** Amount injected, measurement only; absent for a curve against concentration. */
  readonly amount?: PredictedQuantity;
  /** Concentration of the injected solution, measurement only; when the volume is known. */
  readonly concentration?: PredictedQuantity;
  /** Concentration before dilution, measurement only; when a dilution was stated. */
  readonly undiluted?: PredictedQuantity;
  /** Content of the sample, measurement only; when the sample was stated. */
  readonly content?: PredictedQuantity;
  /** The last of these, with the preparation when its uncertainties were given. */
  readonly result: PredictedQuantity;
  /** What the uncertainty of `result` holds. */
  readonly scope: 'measurement only' | 'measurement and preparation';
  /** Its parts, the largest first. */
  readonly budget: readonly BudgetEntry[];
  /** [-] Degrees of freedom of `result`, effective (Welch-Satterthwaite) when parts were combined. */
  readonly degreesOfFreedom: number;
  /** [-] Student's factor of the interval `delta` of `result`. */
  readonly coverageFactor: number;
}

/**
 * No amount could be read.
 *
 * @public
 */
export interface UndeterminedPrediction extends PredictionBasis {
  /** There is no amount. */
  readonly outcome: 'not determinable';
  /** Why. */
  readonly reason: string;
}

/**
 * What every prediction carries.
 *
 * @public
 */
export interface PredictionBasis {
  /** Name of the component, when the calibration has one. */
  readonly component?: string;
  /** [response unit] The responses, as given. */
  readonly responses: readonly number[];
  /** [response unit] Their mean. */
  readonly meanResponse: number;
  /** [response unit] Their standard deviation, for two or more. */
  readonly responseStandardDeviation?: number;
  /** [-] Confidence of the intervals. */
  readonly confidence: number;
  /** What to doubt. */
  readonly warnings: readonly Warning[];
}
