import { failOption, resolveOptions, type Warning } from '../core/index.js';
import { coverageFactor } from '../numeric/index.js';
import type { Calibration } from './calibration.js';
import { checkPredictionOptions } from './check-prediction-options.js';
import { combineUncertainty } from './combine-uncertainty.js';
import { doubtPrediction } from './doubt-prediction.js';
import { createQuantity, followQuantities } from './predicted-quantities.js';
import type { PredictedQuantity, Prediction, PredictionBasis, PreparationUncertainties } from './prediction.js';
import { lineVariance, readBack, readRatio, type LineForPrediction, type ReadBack } from './straight-line.js';
import { deriveAmountUnit } from './units.js';

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
}

/** The options with their defaults. */
export interface PredictionSettings extends Required<Pick<PredictionOptions, 'intercept' | 'interval'>> {
  readonly volume: number | undefined;
  readonly dilution: number | undefined;
  readonly sample: PredictionSample | undefined;
  readonly confidence: number | undefined;
  readonly preparation: PreparationUncertainties | undefined;
}

const defaults: PredictionSettings = {
  volume: undefined,
  intercept: 'background',
  dilution: undefined,
  sample: undefined,
  confidence: undefined,
  interval: 'Fieller',
  preparation: undefined,
};

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
  const settings = resolveOptions<PredictionSettings>(caller, defaults, options);
  checkPredictionOptions(caller, settings, calibration);
  const confidence = settings.confidence ?? calibration.confidence;
  const measured = checkResponses(responses);
  const line = lineOf(calibration);
  const t = coverageFactor(confidence, calibration.degreesOfFreedom);
  const meanResponse = measured.reduce((sum, y) => sum + y / measured.length, 0);
  const deviation = standardDeviation(measured, meanResponse);
  const warnings: Warning[] = [];
  const basis: PredictionBasis = {
    ...(calibration.component === undefined ? {} : { component: calibration.component }),
    responses: measured,
    meanResponse,
    ...(deviation === undefined ? {} : { responseStandardDeviation: deviation }),
    confidence,
    warnings,
  };
  const undetermined = (reason: string): Prediction => ({ ...basis, outcome: 'not determinable', reason });
  if (line.slope === 0) return undetermined('The slope of the line is 0: the response says nothing about the amount.');

  const equivalent = readBack(line, meanResponse, measured.length, t);
  const read = readFirst(calibration, settings, line, equivalent, basis, t);
  if (typeof read === 'string') return undetermined(read);
  const { first, scale } = read;
  const start = createQuantity(scale.of, scale.unit, first, scale.factor, t, settings.interval);
  const chain = followQuantities(caller, calibration, settings, start);
  const last = chain.content ?? chain.undiluted ?? chain.concentration ?? chain.amount ?? start;
  const combined = combineUncertainty(last, {
    shareOfResponses: shareOf(first.varianceOfResponses, first.varianceOfLine),
    degreesOfFreedom: calibration.degreesOfFreedom,
    preparation: settings.preparation,
    confidence,
  });
  const numbers = [start, last, combined.result].flatMap((each) => [
    each.value,
    each.standardUncertainty,
    each.intervals.delta.from,
    each.intervals.delta.to,
    each.intervals.Fieller?.from ?? 0,
    each.intervals.Fieller?.to ?? 0,
  ]);
  if (!numbers.every(Number.isFinite)) {
    return undetermined('The slope is so small against the response that the amount is beyond what numbers can hold.');
  }
  const outcome = outcomeOf(calibration, equivalent.value);
  warnings.push(
    ...doubtPrediction(calibration, settings, basis, { outcome, equivalent: equivalent.value, result: last }),
  );
  return { ...basis, outcome, intercept: settings.intercept, ...chain, ...combined };
}

function checkResponses(responses: number | ArrayLike<number>): readonly number[] {
  const expected = 'one or more finite numbers';
  const list: readonly number[] = typeof responses === 'object' ? Array.from(responses) : [responses];
  if (list.length === 0) failOption(caller, 'responses', expected, responses);
  for (const value of list) if (!Number.isFinite(value)) failOption(caller, 'responses', expected, value);
  return list;
}

/** The statistics of the line back out of the plain data. */
function lineOf(calibration: Calibration): LineForPrediction {
  return {
    slope: calibration.slope.value,
    s: calibration.residualStandardDeviation,
    n: calibration.degreesOfFreedom + 2,
    meanX: calibration.meanAmount,
    meanY: calibration.meanResponse,
    sxx: calibration.sumOfSquares,
  };
}

interface First {
  readonly first: ReadBack;
  /** What `first` is and the factor to its unit. */
  readonly scale: { readonly of: PredictedQuantity['of']; readonly unit: string; readonly factor: number };
}

/** The first quantity: off the axis of the line, or as a ratio to the standard at the same volume. */
function readFirst(
  calibration: Calibration,
  settings: PredictionSettings,
  line: LineForPrediction,
  equivalent: ReadBack,
  { meanResponse, responses }: PredictionBasis,
  t: number,
): First | string {
  const { units, volumeOffset } = calibration;
  if (settings.intercept === 'background') {
    const of =
      calibration.quantity === 'amount injected' ? 'amount injected' : 'concentration of the injected solution';
    return { first: equivalent, scale: { of, unit: units.amount, factor: 1 } };
  }
  const standard = volumeOffset!.concentration;
  const { factor } = deriveAmountUnit(caller, units.concentration!, units.volume, units.amount);
  const x = standard * settings.volume! * factor;
  const expected = line.meanY + line.slope * (x - line.meanX);
  if (expected * line.slope <= 0) {
    return `At ${settings.volume!} ${units.volume} the line gives no response for the standard; the volume lies too far outside the series.`;
  }
  const first = readRatio(meanResponse, (line.s * line.s) / responses.length, expected, lineVariance(line, x), t);
  return {
    first,
    scale: { of: 'concentration of the injected solution', unit: units.concentration!, factor: standard },
  };
}

function shareOf(part: number, rest: number): number {
  return part === 0 ? 0 : part / (part + rest);
}

function outcomeOf({ range }: Calibration, equivalent: number): 'in range' | 'above range' | 'below range' {
  if (equivalent > range[1]) return 'above range';
  return equivalent < range[0] ? 'below range' : 'in range';
}

function standardDeviation(values: readonly number[], mean: number): number | undefined {
  if (values.length < 2) return undefined;
  const largest = values.reduce((most, y) => Math.max(most, Math.abs(y - mean)), 0);
  if (largest === 0) return 0;
  const sum = values.reduce((total, y) => total + ((y - mean) / largest) * ((y - mean) / largest), 0);
  return largest * Math.sqrt(sum / (values.length - 1));
}
