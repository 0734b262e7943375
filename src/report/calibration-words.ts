import type { Calibration } from '../calibration/index.js';
import { significantNumber } from './axis-ticks.js';
import type { CalibrationModel } from './calibration-model.js';
import { valueWithUncertainty } from './number-text.js';

/** What is plotted against what, for which component. */
export function calibrationTitle({ component, responseKind, quantity }: Calibration): string {
  const axes = `${responseKind} against ${quantity}`;
  return component === undefined ? `Calibration: ${axes}` : `${component}: ${axes}`;
}

/** The equation and what it rests on, in parts. */
export function calibrationSubtitle(calibration: Calibration): string[] {
  const { units, slope, intercept, residualStandardDeviation, volumeOffset, warnings } = calibration;
  const { points, excluded, rSquared } = calibration;
  const parts = [
    `slope ${valueWithUncertainty(slope.value, slope.standardUncertainty)} ${units.slope}`,
    `intercept ${valueWithUncertainty(intercept.value, intercept.standardUncertainty)} ${units.response}`,
    '± one standard uncertainty',
    excluded.length === 0 ? `${points.length} points` : `${points.length} points, ${excluded.length} left out`,
    `residual standard deviation ${significantNumber(residualStandardDeviation, 2)} ${units.response}`,
  ];
  if (rSquared !== undefined) parts.push(`R² ${rSquared.value.toFixed(5)}`);
  if (volumeOffset !== undefined) {
    const { value, standardUncertainty } = volumeOffset;
    parts.push(`intercept as volume ${valueWithUncertainty(value, standardUncertainty)} ${units.volume}`);
  }
  if (warnings.length > 0) parts.push(`${warnings.length} warning${warnings.length === 1 ? '' : 's'}`);
  return parts;
}

/** The calibration in words. */
export function calibrationDescription(calibration: Calibration, model: CalibrationModel): string {
  const { units, range } = calibration;
  const read = model.unknowns
    .map(({ name, quantity }) =>
      quantity === undefined
        ? `${name}: not determinable.`
        : `${name}: ${valueWithUncertainty(quantity.value, quantity.standardUncertainty)} ${quantity.unit}.`,
    )
    .join(' ');
  return `${calibrationSubtitle(calibration).join('; ')}. Standards from ${significantNumber(range[0], 4)} to ${significantNumber(range[1], 4)} ${units.amount}. ${read}`.trim();
}
