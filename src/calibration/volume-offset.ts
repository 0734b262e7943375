import { defined } from '../core/index.js';
import type { VolumeOffset } from './calibration.js';
import type { ResolvedPoint, ResolvedPoints } from './calibration-point.js';
import { short, shortRange } from './number-text.js';
import { readBack, type StraightLine } from './straight-line.js';

/** Intercept / slope of one solution at several volumes: minus the volume at which the line gives 0. */
export function readVolumeOffset(
  used: readonly ResolvedPoint[],
  { factor }: ResolvedPoints,
  line: StraightLine,
  t: number,
  unit: string,
): VolumeOffset | undefined {
  const concentration = used[0]!.concentration;
  const oneSolution = used.every((point) => point.concentration === concentration);
  if (factor === undefined || concentration === undefined || !oneSolution || line.slope === 0) return undefined;
  const perVolume = concentration * factor;
  const zero = readBack(line, 0, Infinity, t);
  const value = -zero.value / perVolume;
  const interval = zero.fieller && ([-zero.fieller[1] / perVolume, -zero.fieller[0] / perVolume] as const);
  const significant = interval !== undefined && (interval[0] > 0 || interval[1] < 0);
  const limits = interval === undefined ? 'without finite limits' : shortRange(interval, unit);
  const meaning = significant
    ? 'an error of every injected volume, or a response every run carries'
    : 'not to be told from 0';
  return defined({
    value,
    standardUncertainty: zero.standardUncertainty / perVolume,
    interval,
    significant,
    concentration,
    text: `The intercept equals ${short(value)} ${unit} of the standard, ${limits}: ${meaning}.`,
  });
}
