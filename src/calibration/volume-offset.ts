import type { VolumeOffset } from './calibration.js';
import type { ResolvedPoint, ResolvedPoints } from './calibration-point.js';
import { percent, short } from './number-text.js';
import { readBack, type StraightLine } from './straight-line.js';

/** Intercept / slope of one solution at several volumes: minus the volume at which the line gives 0. */
export function readVolumeOffset(
  used: readonly ResolvedPoint[],
  resolved: ResolvedPoints,
  line: StraightLine,
  t: number,
  names: { confidence: number; volumeUnit: string; concentrationUnit: string | undefined },
): VolumeOffset | undefined {
  const concentration = used[0]!.concentration;
  const oneSolution = used.every((point) => point.concentration === concentration);
  if (resolved.factor === undefined || concentration === undefined || !oneSolution || line.slope === 0)
    return undefined;
  const perAmount = 1 / (concentration * resolved.factor);
  const zero = readBack(line, 0, Infinity, t);
  const value = -zero.value * perAmount;
  const standardUncertainty = Math.sqrt(zero.varianceOfLine) * perAmount;
  const interval =
    zero.fieller === undefined ? undefined : ([-zero.fieller[1] * perAmount, -zero.fieller[0] * perAmount] as const);
  const significant = interval !== undefined && (interval[0] > 0 || interval[1] < 0);
  const { volumeUnit, confidence, concentrationUnit } = names;
  const limits =
    interval === undefined
      ? `no finite limits, because the slope is not significant`
      : `${percent(confidence)} limits ${short(interval[0])} to ${short(interval[1])} ${volumeUnit}`;
  return {
    value,
    standardUncertainty,
    ...(interval === undefined ? {} : { interval }),
    significant,
    concentration,
    text:
      `The intercept equals ${short(value)} ${volumeUnit} of the standard of ${short(concentration)} ${concentrationUnit ?? ''} ` +
      `(standard uncertainty ${short(standardUncertainty)} ${volumeUnit}, ${limits}): ` +
      (significant
        ? `every injection acts as if it were ${value > 0 ? 'larger' : 'smaller'} by that volume, or every run carries a response of its own.`
        : 'not distinguishable from 0.'),
  };
}
