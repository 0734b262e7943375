import type { Warning } from '../core/index.js';
import { fUpperTail } from '../numeric/index.js';
import type { Calibration } from './calibration.js';
import { short } from './number-text.js';
import type { PredictionSettings } from './predict-amount.js';
import type { DeterminedPrediction, PredictedQuantity, PredictionBasis } from './prediction.js';

/** What to doubt about an amount read from a line. */
export function doubtPrediction(
  calibration: Calibration,
  options: PredictionSettings,
  basis: PredictionBasis,
  read: {
    readonly outcome: DeterminedPrediction['outcome'];
    readonly equivalent: number;
    readonly result: PredictedQuantity;
  },
): Warning[] {
  const { range, units, volumeOffset, volumeRange } = calibration;
  const { outcome, equivalent, result } = read;
  const warnings: Warning[] = [];
  const warn = (code: string, message: string): number => warnings.push({ code, message });
  if (outcome !== 'in range') {
    const side = outcome === 'above range' ? 'above the highest' : 'below the lowest';
    warn(
      'prediction-extrapolated',
      `The response belongs to ${short(equivalent)} ${units.amount} on the line, ${side} standard (${short(range[0])} to ${short(range[1])} ${units.amount}); the line was not seen there and the interval does not cover that.`,
    );
  }
  if (result.interval === undefined) {
    warn(
      'prediction-no-finite-interval',
      'The slope cannot be told from 0 at this confidence, so the limits of Fieller are not finite; the interval by the delta formula is too narrow.',
    );
  } else if (result.interval.from <= 0 && result.interval.to >= 0) {
    warn('prediction-not-above-zero', `The interval holds 0: the result cannot be told from none at all.`);
  }
  warnings.push(...doubtReplicates(calibration, basis));
  if (volumeOffset?.significant === true && options.intercept === 'background') {
    warn(
      'prediction-intercept-meaning',
      `The intercept was taken for a background of every run. It equals ${short(volumeOffset.value)} ${units.volume} of the standard; if it is an error of the injected volume, choose intercept 'injected volume', which gives another result.`,
    );
  }
  if (
    options.intercept === 'injected volume' &&
    volumeRange !== undefined &&
    (options.volume! < volumeRange[0] || options.volume! > volumeRange[1])
  ) {
    warn(
      'prediction-volume-outside',
      `The volume ${short(options.volume!)} ${units.volume} lies outside those of the series (${short(volumeRange[0])} to ${short(volumeRange[1])} ${units.volume}).`,
    );
  }
  return warnings;
}

/** Replicates that scatter more than the standards do about the line make its scatter too small for them. */
function doubtReplicates(calibration: Calibration, basis: PredictionBasis): Warning[] {
  const s = calibration.residualStandardDeviation;
  const own = basis.responseStandardDeviation;
  if (own === undefined || own === 0) return [];
  const probability =
    s === 0 ? 0 : fUpperTail((own / s) * (own / s), basis.responses.length - 1, calibration.degreesOfFreedom);
  if (probability >= 1 - basis.confidence) return [];
  return [
    {
      code: 'prediction-replicates-scatter',
      message: `The ${basis.responses.length} responses scatter by ${short(own)} ${calibration.units.response}, more than the standards about the line (${short(s)} ${calibration.units.response}); the uncertainty, which uses the latter, is too small.`,
    },
  ];
}
