import type { Calibration } from '../calibration/index.js';
import { counted, significantNumber, valueWithUncertainty } from './number-text.js';

/** The equation and what it rests on, in parts. */
export function calibrationSubtitle(calibration: Calibration): string[] {
  const { units, slope, intercept, volumeOffset, warnings, points, excluded, rSquared } = calibration;
  const measured = (name: string, value: { value: number; standardUncertainty: number }, unit: string): string =>
    `${name} ${valueWithUncertainty(value.value, value.standardUncertainty)} ${unit}`;
  const parts = [
    measured('slope', slope, units.slope),
    measured('intercept', intercept, units.response),
    '± one standard uncertainty',
    `${counted(points.length, 'point')}${excluded.length > 0 ? `, ${excluded.length} left out` : ''}`,
    `residual standard deviation ${significantNumber(calibration.residualStandardDeviation, 2)} ${units.response}`,
  ];
  if (rSquared !== undefined) parts.push(`R² ${rSquared.value.toFixed(5)}`);
  if (volumeOffset !== undefined) parts.push(measured('intercept as volume', volumeOffset, units.volume));
  if (warnings.length > 0) parts.push(counted(warnings.length, 'warning'));
  return parts;
}
