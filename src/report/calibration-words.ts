import type { Calibration } from '../calibration/index.js';
import type { ShownUnknown } from './calibration-model.js';
import { counted, significantNumber, valueWithUncertainty } from './number-text.js';

/** What is plotted against what, for which component. */
export function calibrationTitle({ component, responseKind, quantity }: Calibration): string {
  return `${component ?? 'Calibration'}: ${responseKind} against ${quantity}`;
}

/** The equation and what it rests on, in parts. */
export function calibrationSubtitle(calibration: Calibration): string[] {
  const { units, slope, intercept, volumeOffset, warnings, points, excluded, rSquared } = calibration;
  const measured = (value: { value: number; standardUncertainty: number }, unit: string): string =>
    `${valueWithUncertainty(value.value, value.standardUncertainty)} ${unit}`;
  const parts = [
    `slope ${measured(slope, units.slope)}`,
    `intercept ${measured(intercept, units.response)}`,
    '± one standard uncertainty',
    `${points.length} points${excluded.length === 0 ? '' : `, ${excluded.length} left out`}`,
    `residual standard deviation ${significantNumber(calibration.residualStandardDeviation, 2)} ${units.response}`,
  ];
  if (rSquared !== undefined) parts.push(`R² ${rSquared.value.toFixed(5)}`);
  if (volumeOffset !== undefined) parts.push(`intercept as volume ${measured(volumeOffset, units.volume)}`);
  if (warnings.length > 0) parts.push(counted(warnings.length, 'warning'));
  return parts;
}

/** The calibration in words. */
export function calibrationDescription(calibration: Calibration, unknowns: readonly ShownUnknown[]): string {
  const [from, to] = calibration.range.map((amount) => significantNumber(amount, 4));
  const read = unknowns.map(({ name, text }) => ` ${name}: ${text}.`);
  return `${calibrationSubtitle(calibration).join('; ')}. Standards from ${from} to ${to} ${calibration.units.amount}.${read.join('')}`;
}
