import { emg, emgAreaBefore, emgFromApex, emgHeight } from '../shapes/index.js';
import type { PeakRecipe } from './peak-recipe.js';

/** A peak of a recipe as a function of time. */
export interface PeakCurve {
  /** [min] Its apex. */
  readonly position: number;
  /** [signal unit] Its height, with its sign. */
  readonly height: number;
  /** [signal unit s] Its whole area, with its sign. */
  readonly area: number;
  /** [min] Scale of its width. */
  readonly sigma: number;
  /** [min] Outside these it is below 1e-40 of its height. */
  readonly from: number;
  readonly to: number;
  /** [signal unit] */
  readonly value: (time: number) => number;
  /** [signal unit s] */
  readonly areaBefore: (time: number) => number;
}

// 15 sigma and 100 time constants of the tail from the mean a peak is below 1e-40 of its height.
const reach = 15;
const decay = 100;

export function peakCurve(peak: PeakRecipe): PeakCurve {
  const { retentionTime, sigma, tau = 0 } = peak;
  const height = peak.height ?? emgHeight({ area: peak.area! / 60, mean: 0, sigma, tau });
  const curve = emgFromApex({ position: retentionTime, height, sigma, tau });
  return {
    position: retentionTime,
    height,
    area: peak.area ?? 60 * curve.area,
    sigma,
    from: curve.mean - reach * sigma + decay * Math.min(tau, 0),
    to: curve.mean + reach * sigma + decay * Math.max(tau, 0),
    value: (t) => emg(t, curve),
    areaBefore: (t) => 60 * emgAreaBefore(t, curve),
  };
}
