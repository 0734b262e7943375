import type { Warning } from '../core/index.js';
import type { Calibration } from './calibration.js';

/** What to doubt about a line. */
export function doubtCalibration(calibration: Calibration): Warning[] {
  const { points, excluded, slope, residualStandardDeviation, meanResponse, volumeRange, volumeOffset } = calibration;
  const warnings: Warning[] = [];
  const warn = (holds: boolean, code: string, message: string): void => {
    if (holds) warnings.push({ code: `calibration-${code}`, message });
  };
  const left = excluded.map(({ injection, row, reason }) => `${injection ?? `point ${row}`} (${reason})`);
  const flat = slope.interval[0] <= 0 && slope.interval[1] >= 0;
  warn(left.length > 0, 'points-left-out', `Left out of the fit: ${left.join(', ')}.`);
  warn(flat, 'slope-not-significant', 'The slope cannot be told from 0; no amount has finite limits.');
  warn(!flat && slope.value < 0, 'slope-negative', 'The response falls with the amount; check the signs of areas.');
  warn(
    new Set(points.map(({ amount }) => amount)).size === 2,
    'two-levels',
    'With only two different amounts, whether the line is straight cannot be seen.',
  );
  warn(
    residualStandardDeviation <= 1e-12 * Math.abs(meanResponse),
    'exact',
    'The points lie on the line to the last digits; the uncertainties say nothing about real runs.',
  );
  warn(
    calibration.responseKind === 'height',
    'height',
    'Heights were used; unlike areas they change with the width of a peak, which grows with the volume.',
  );
  warn(
    volumeOffset === undefined && volumeRange !== undefined && volumeRange[0] < volumeRange[1],
    'volume-offset-unknown',
    'Several solutions at several volumes: the intercept cannot be read as a volume.',
  );
  return warnings;
}
