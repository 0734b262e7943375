import { defined } from '../core/index.js';
import type { VolumeOffset } from './calibration.js';
import type { ResolvedPoint } from './calibration-point.js';
import { readBack, type StraightLine } from './straight-line.js';

/** Intercept / slope of one solution at several volumes: minus the volume at which the line gives 0. */
export function readVolumeOffset(
  used: readonly ResolvedPoint[],
  factor: number | undefined,
  line: StraightLine,
  t: number,
): VolumeOffset | undefined {
  const [{ concentration = 0 }] = used as [ResolvedPoint];
  if (factor === undefined || line.slope === 0 || used.some((point) => point.concentration !== concentration)) {
    return undefined;
  }
  const perVolume = concentration * factor;
  const { value, standardUncertainty, fieller } = readBack(line, 0, Infinity, t);
  return defined({
    value: -value / perVolume,
    standardUncertainty: standardUncertainty / perVolume,
    interval: fieller && ([-fieller[1] / perVolume, -fieller[0] / perVolume] as const),
    significant: fieller !== undefined && fieller[0] * fieller[1] > 0,
    concentration,
  });
}
