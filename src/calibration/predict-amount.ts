import {
  checkFields,
  checkNotNegative,
  checkNumber,
  checkPositive,
  checkText,
  defined,
  failOption,
  optional,
} from '../core/index.js';
import { coverageFactor } from '../numeric/index.js';
import { allFinite } from './all-finite.js';
import type { Calibration } from './calibration.js';
import { checkConfidence, checkUnit, objectOf, oneOf } from './check-options.js';
import { combineUncertainty } from './combine-uncertainty.js';
import { doubtPrediction, lowerBoundWarning } from './doubt-prediction.js';
import { amountPerConcentration, followQuantities } from './predicted-quantities.js';
import type { DeterminedPrediction, Prediction, PredictionBasis, PreparationUncertainties } from './prediction.js';
import { readBack, throughZero } from './straight-line.js';

/**
 * The sample behind a solution.
 *
 * @public
 */
export interface PredictionSample {
  /** [solution volume unit] Volume of solution made from the sample. */
  readonly solutionVolume: number;
  /** Unit of that volume. */
  readonly solutionVolumeUnit: string;
  /** [unit] Quantity of sample taken. */
  readonly quantity: number;
  /** Unit of that quantity, for example `'g'` or `'mL'`. */
  readonly unit: string;
}

/**
 * Options of {@link predictAmount}.
 *
 * @public
 */
export interface PredictionOptions {
  /**
   * [volume unit of the calibration] Volume injected; gives the concentration.
   *
   * @defaultValue undefined
   */
  readonly volume?: number;
  /**
   * What the intercept is: `'background'`, a response every run carries
   * whatever was injected, or `'injected volume'`, a constant error of the
   * injected volume ({@link Calibration.volumeOffset}); the latter needs `volume`.
   *
   * @defaultValue 'background'
   */
  readonly intercept?: 'background' | 'injected volume';
  /**
   * [-] How many times the solution was diluted before injection: 10 for 1 mL made up to 10 mL.
   *
   * @defaultValue undefined
   */
  readonly dilution?: number;
  /**
   * The sample behind the (undiluted) solution; gives its content.
   *
   * @defaultValue undefined
   */
  readonly sample?: PredictionSample;
  /**
   * [-] Confidence of the intervals, between 0 and 1; that of the calibration when not stated.
   *
   * @defaultValue undefined
   */
  readonly confidence?: number;
  /**
   * Which interval is the main one of measured quantities; both are given.
   *
   * @defaultValue 'Fieller'
   */
  readonly interval?: 'Fieller' | 'delta';
  /**
   * Relative standard uncertainties of the preparation, to be combined.
   *
   * @defaultValue undefined
   */
  readonly preparation?: PreparationUncertainties;
  /**
   * Which responses are lower bounds and why, one sentence each, as {@link collectResponses} gives them: the result then
   * says that the amount is one too.
   *
   * @defaultValue []
   */
  readonly lowerBounds?: readonly string[];
}

/** The options with their defaults. */
export type PredictionSettings = PredictionOptions & typeof defaults;

const defaults: Required<Pick<PredictionOptions, 'intercept' | 'interval' | 'lowerBounds'>> = {
  intercept: 'background',
  interval: 'Fieller',
  lowerBounds: [],
};

/** Made when asked for, so that who does not calibrate does not load it. */
const checks = () => ({
  volume: optional(checkPositive),
  intercept: optional(oneOf('background', 'injected volume')),
  dilution: optional(checkPositive),
  sample: optional(
    objectOf({
      solutionVolume: checkPositive,
      solutionVolumeUnit: checkUnit,
      quantity: checkPositive,
      unit: checkUnit,
    }),
  ),
  confidence: optional(checkConfidence),
  interval: optional(oneOf('Fieller', 'delta')),
  lowerBounds: optional(checkReasons),
  preparation: optional(
    objectOf({
      purity: optional(checkNotNegative),
      weighing: optional(checkNotNegative),
      glassware: optional(checkNotNegative),
      preparation: optional(checkNotNegative),
      recovery: optional(checkNotNegative),
    }),
  ),
});

function checkReasons(who: string, field: string, value: unknown): void {
  if (!Array.isArray(value)) failOption(who, field, 'a list of reasons', value);
  (value as readonly unknown[]).forEach((reason, i) => {
    checkText(who, `${field}[${i}]`, reason);
  });
}

const caller = 'predictAmount';

/**
 * Reads the amount in an unknown from a calibration, with its uncertainty.
 *
 * The mean of the m responses is read back from the line. The standard
 * uncertainty holds the scatter of m responses, taken to be that of the
 * standards about the line, and the uncertainty of the line; the interval is
 * that of Fieller unless the other is chosen. Volume, dilution and sample turn
 * the amount into concentrations and a content, without uncertainties of their
 * own: those come in by `preparation`, and without it the result says that it
 * holds the measurement only.
 *
 * With `intercept: 'injected volume'` the response is compared with what the
 * line gives for the standard at the same volume, so an error of the injected
 * volume that all runs share cancels; the amount is then that of the stated
 * volume.
 *
 * @param calibration - From {@link fitCalibration}, also by way of JSON.
 * @param responses - [response unit] One response, or m replicates, of the
 *   kind and unit of the calibration; read, never changed.
 * @param options - Volume, dilution, sample, intervals; see {@link PredictionOptions}.
 *
 * @returns The amount and what follows from it, in or out of the range of the
 *   standards, or the reason why there is none.
 *
 * @throws {@link PeakwrightError} `option-invalid` for a response or option that
 *   is not a usable number or does not go with the calibration,
 *   `option-unknown`, `unit-unknown`, `unit-missing`, `unit-mismatch`.
 *
 * @example
 * ```ts
 * const areas = [41.9, 80.6, 121.7, 160.2, 200.4];
 * const points = areas.map((response, i) => ({ concentration: 25, volume: 2 * (i + 1), response }));
 * const line = fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
 * const unknown = predictAmount(line, [130.3, 131.1], { volume: 10 });
 * unknown.outcome; // => 'in range'
 * ```
 *
 * @see J. N. Miller, J. C. Miller, Statistics and Chemometrics for Analytical
 *   Chemistry, chapter on calibration (formulas from memory).
 * @see E. C. Fieller (1954), J. R. Stat. Soc. B 16, 175-185.
 *
 * @public
 */
export function predictAmount(
  calibration: Calibration,
  responses: number | ArrayLike<number>,
  options: PredictionOptions = {},
): Prediction {
  checkFields(caller, checks(), options);
  const settings = { ...defaults, ...defined(options) };
  checkTogether(calibration, settings);
  const { volume, intercept, preparation, confidence = calibration.confidence, lowerBounds } = settings;
  const { component, degreesOfFreedom, units, volumeOffset, range } = calibration;
  const measured = typeof responses === 'object' ? Array.from(responses) : [responses];
  const m = measured.length;
  const warnings = lowerBoundWarning(lowerBounds);
  const basis: PredictionBasis = defined({ component, ...describeResponses(measured), confidence, warnings });
  const fitted = { ...calibration, slope: calibration.slope.value };
  const line =
    intercept === 'background'
      ? fitted
      : throughZero(fitted, volumeOffset!.concentration * amountPerConcentration(caller, units, volume!));
  const t = coverageFactor(confidence, degreesOfFreedom);
  const read = readBack(line, basis.meanResponse, m, t);
  const chain = followQuantities(caller, calibration, settings, read, t);
  const equivalent = readBack(fitted, basis.meanResponse, m, t).value;
  const determined: DeterminedPrediction = {
    ...basis,
    outcome: equivalent > range[1] ? 'above range' : equivalent < range[0] ? 'below range' : 'in range',
    intercept,
    ...Object.fromEntries(chain.map((quantity) => [quantity.of, quantity])),
    ...combineUncertainty(chain.at(-1)!, read.shareOfResponses, degreesOfFreedom, confidence, preparation),
  };
  if (!allFinite(determined) || line.slope * fitted.slope <= 0) {
    const reason = 'The slope, or the response of the standard, is 0 or too small.';
    return { ...basis, outcome: 'not determinable', reason };
  }
  const doubts = doubtPrediction(calibration, determined, chain[0]!.interval, volume);
  return { ...determined, warnings: [...warnings, ...doubts] };
}

/** Refuses options that do not go together or with the calibration. */
function checkTogether(
  { quantity, volumeOffset }: Calibration,
  { volume, intercept, dilution, sample }: PredictionSettings,
): void {
  const isInjected = intercept === 'injected volume';
  const needsVolume = isInjected || dilution !== undefined || sample !== undefined;
  if (quantity === 'concentration' ? volume !== undefined : needsVolume && volume === undefined) {
    const expected = 'given with dilution, sample or injected volume, and not against concentration';
    failOption(caller, 'volume', expected, volume);
  }
  if (isInjected && volumeOffset === undefined) {
    failOption(caller, 'intercept', "'background' for a calibration without volumeOffset", intercept);
  }
}

function describeResponses(
  responses: readonly number[],
): Pick<PredictionBasis, 'responses' | 'meanResponse'> & { responseStandardDeviation: number | undefined } {
  const m = responses.length;
  if (m === 0) failOption(caller, 'responses', 'one or more numbers', responses);
  responses.forEach((y, i) => {
    // larger ones could not be squared
    checkNumber(caller, `responses[${i}]`, y, 'a number below 1e150', (v) => Math.abs(v) < 1e150);
  });
  const meanResponse = responses.reduce((sum, y) => sum + y / m, 0);
  const squares = responses.reduce((sum, y) => sum + (y - meanResponse) * (y - meanResponse), 0);
  return {
    responses,
    meanResponse,
    responseStandardDeviation: m < 2 ? undefined : Math.sqrt(squares / (m - 1)),
  };
}
