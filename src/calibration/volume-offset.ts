import { defined } from '../core/index.js';
import type { VolumeOffset } from './calibration.js';
import type { ResolvedPoint, ResolvedPoints } from './calibration-point.js';
import { short, shortRange } from './number-text.js';
import { againstLine, divide, type StraightLine } from './straight-line.js';

/** Intercept / slope of one solution at several volumes: minus the volume at which the line gives 0. */
export function readVolumeOffset(
  used: readonly ResolvedPoint[],
  { factor }: ResolvedPoints,
  line: StraightLine,
  t: number,
  units: { readonly volumeUnit: string; readonly concentrationUnit: string | undefined },
): VolumeOffset | undefined {
  const concentration = used[0]!.concentration;
  const oneSolution = used.every((point) => point.concentration === concentration);
  if (factor === undefined || concentration === undefined || !oneSolution || line.slope === 0) return undefined;
  const perAmount = 1 / (concentration * factor);
  const zero = divide(againstLine(line, 0, Infinity), t);
  const value = -zero.value * perAmount;
  const standardUncertainty = zero.standardUncertainty * perAmount;
  const interval = zero.fieller && ([-zero.fieller[1] * perAmount, -zero.fieller[0] * perAmount] as const);
  const significant = interval !== undefined && (interval[0] > 0 || interval[1] < 0);
  const { volumeUnit, concentrationUnit } = units;
  const meaning = significant
    ? `every injection acts as if it were ${value > 0 ? 'larger' : 'smaller'} by that volume, or every run carries a response of its own`
    : 'not distinguishable from 0';
  const text = `The intercept equals ${short(value)} ${volumeUnit} of the standard of ${short(concentration)} ${concentrationUnit!}, ${interval === undefined ? 'without finite limits' : shortRange(interval, volumeUnit)}: ${meaning}.`;
  return defined({ value, standardUncertainty, interval, significant, concentration, text });
}
