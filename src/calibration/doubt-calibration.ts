import type { Warning } from '../core/index.js';
import type { Calibration } from './calibration.js';

/** What to doubt about a line. */
export function doubtCalibration(calibration: Calibration): Warning[] {
  const { points, excluded, slope, units, residualStandardDeviation, meanResponse } = calibration;
  const warnings: Warning[] = [];
  const warn = (code: string, message: string): number => warnings.push({ code, message });
  if (excluded.length > 0) {
    const list = excluded.map((point) => `${point.injection ?? `point ${point.row}`} (${point.reason})`).join(', ');
    warn('calibration-points-left-out', `Left out of the fit: ${list}.`);
  }
  if (slope.interval[0] <= 0 && slope.interval[1] >= 0) {
    warn(
      'calibration-slope-not-significant',
      'The slope cannot be told from 0; no amount has finite limits on this line.',
    );
  } else if (slope.value < 0) {
    warn('calibration-slope-negative', 'The response falls with the amount; check the signs of areas and the amounts.');
  }
  if (new Set(points.map((point) => point.amount)).size === 2) {
    warn(
      'calibration-two-levels',
      'There are only two different amounts; whether the line is straight cannot be seen.',
    );
  }
  if (residualStandardDeviation <= 1e-12 * Math.abs(meanResponse)) {
    warn(
      'calibration-exact',
      'The points lie on the line to the last digits; the uncertainties say nothing about real runs.',
    );
  }
  if (calibration.responseKind === 'height') {
    const series = calibration.volumeOffset === undefined ? '' : ', and the more is injected the wider a peak becomes';
    warn(
      'calibration-height',
      `Heights were used: they change when the width of a peak changes${series}. Areas do not.`,
    );
  }
  if (
    calibration.volumeRange !== undefined &&
    calibration.volumeOffset === undefined &&
    isSeveralVolumes(calibration)
  ) {
    warn(
      'calibration-volume-offset-unknown',
      `Solutions of different concentrations were injected at different volumes; the intercept cannot be read as a volume in ${units.volume}.`,
    );
  }
  return warnings;
}

function isSeveralVolumes({ volumeRange, quantity }: Calibration): boolean {
  return quantity === 'amount injected' && volumeRange !== undefined && volumeRange[0] < volumeRange[1];
}
