import type { Warning } from '../core/index.js';
import { fUpperTail } from '../numeric/index.js';
import type { Calibration } from './calibration.js';
import { warningsOf } from './doubts.js';
import type { DeterminedPrediction, PredictionInterval } from './prediction.js';

/** What to doubt about an amount read from a line. */
export function doubtPrediction(
  { volumeOffset, volumeRange = [0, Infinity], residualStandardDeviation, degreesOfFreedom }: Calibration,
  { outcome, intercept, responses, responseStandardDeviation = 0, confidence }: DeterminedPrediction,
  interval: PredictionInterval | undefined,
  volume = 0,
): Warning[] {
  const [from, to] = volumeRange;
  const ratio = responseStandardDeviation / residualStandardDeviation;
  return warningsOf([
    [
      outcome !== 'in range' || (intercept === 'injected volume' && (volume < from || volume > to)),
      'prediction-extrapolated',
      'The response or volume lies outside the standards; the interval does not cover that.',
    ],
    [
      interval === undefined,
      'prediction-no-finite-interval',
      'The slope cannot be told from 0; the delta interval is too narrow.',
    ],
    [
      // the uncertainty takes the scatter of the responses to be that of the standards about the line
      ratio > 0 && fUpperTail(ratio * ratio, responses.length - 1, degreesOfFreedom) < 1 - confidence,
      'prediction-replicates-scatter',
      'The responses scatter more than the standards; the uncertainty is too small.',
    ],
    [
      intercept === 'background' && volumeOffset?.significant,
      'prediction-intercept-meaning',
      "If the intercept is no background but an error of the volume, intercept 'injected volume' gives the right result.",
    ],
  ]);
}

/** That an amount read from lower bounds is one. */
export function lowerBoundWarning(reasons: readonly string[]): Warning[] {
  const message = `The amount is a lower bound, and the interval does not cover that: ${reasons.join('; ')}.`;
  return warningsOf([[reasons.length > 0, 'prediction-lower-bound', message]]);
}
