import type { Warning } from '../core/index.js';
import { fUpperTail } from '../numeric/index.js';
import type { Calibration } from './calibration.js';
import { short, shortRange } from './number-text.js';
import type { PredictionSettings } from './predict-amount.js';
import type { DeterminedPrediction, PredictionBasis, PredictionInterval } from './prediction.js';

/** What to doubt about an amount read from a line. */
export function doubtPrediction(
  { range, units, volumeOffset, volumeRange, residualStandardDeviation: s, degreesOfFreedom }: Calibration,
  { intercept, volume = 0 }: PredictionSettings,
  { responses, responseStandardDeviation: own = 0, confidence }: PredictionBasis,
  read: {
    readonly outcome: DeterminedPrediction['outcome'];
    /** [amount unit] What the line reads from the mean response. */
    readonly equivalent: number;
    readonly interval: PredictionInterval | undefined;
  },
): Warning[] {
  const { outcome, equivalent, interval } = read;
  const warnings: Warning[] = [];
  const warn = (code: string, message: string): void => {
    warnings.push({ code: `prediction-${code}`, message });
  };
  if (outcome !== 'in range') {
    warn(
      'extrapolated',
      `The response belongs to ${short(equivalent)} ${units.amount} on the line, outside the standards (${shortRange(range, units.amount)}); the interval does not cover that.`,
    );
  }
  if (interval === undefined) {
    warn(
      'no-finite-interval',
      'The slope cannot be told from 0: the limits of Fieller are not finite, those by the delta formula too narrow.',
    );
  } else if (interval.from <= 0 && interval.to >= 0) {
    warn('not-above-zero', 'The interval holds 0: the result cannot be told from none.');
  }
  const variances = (own / s) * (own / s);
  // the uncertainty takes the scatter of the responses to be that of the standards about the line
  if (own > 0 && fUpperTail(variances, responses.length - 1, degreesOfFreedom) < 1 - confidence) {
    warn(
      'replicates-scatter',
      `The responses scatter by ${short(own)} ${units.response}, the standards about the line by ${short(s)}; the uncertainty uses the latter and is too small.`,
    );
  }
  if (volumeOffset?.significant === true && intercept === 'background') {
    warn(
      'intercept-meaning',
      `The intercept was taken for a background; if it is an error of ${short(volumeOffset.value)} ${units.volume} in every injected volume, choose intercept 'injected volume', which gives another result.`,
    );
  }
  if (
    intercept === 'injected volume' &&
    volumeRange !== undefined &&
    (volume < volumeRange[0] || volume > volumeRange[1])
  ) {
    warn(
      'volume-outside',
      `The volume of ${short(volume)} ${units.volume} lies outside the series (${shortRange(volumeRange, units.volume)}).`,
    );
  }
  return warnings;
}
