import type { Warning } from '../core/index.js';
import { halfWidthOfSigma, log } from '../numeric/index.js';
import type { SurveyedRun } from '../peaks/index.js';
import type { Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Peak } from './analysis.js';

/** A first-order filter before the record. */
export interface Filter {
  /** [min] Time constant. */
  readonly tau: number;
  /** Whether it was stated, or is read off the noise. */
  readonly stated: boolean;
}

/** [-] Time constant over the standard deviation of a peak from which it is worth saying: 4 % of the variance. Our own. */
const leastShare = 0.2;
/** [-] Correlation of neighbouring readings from which noise may have been filtered. Our own, above what wander under white noise shows. */
const leastCorrelation = 0.6;

/**
 * The filter that the signal went through: the stated response time of the
 * detector, or the time constant of a first-order filter that would give the noise the
 * correlation it has. Spikes and steps that rise within a few points show that there is none.
 */
export function filterOf({ meta, time }: Trace, noise: Noise, { spikes, steps }: SurveyedRun): Filter | undefined {
  if (meta.responseTime !== undefined) return { tau: meta.responseTime / 60, stated: true };
  const { correlation, warnings = [] } = noise;
  const isClear = correlation >= leastCorrelation && correlation < 1 && warnings.length === 0;
  if (!isClear || spikes.length + steps.length > 0) return undefined;
  const step = (time.at(-1)! - time[0]!) / (time.length - 1);
  return { tau: -step / log(correlation), stated: false };
}

/**
 * What a first-order filter did to a peak: it moves the mean time by tau and adds tau² to the variance, as
 * the exponential does in an exponentially modified Gaussian (E. Grushka (1972), Anal. Chem. 44, 1733-1738; from memory).
 */
export function lagWarning({ retentionTime: at, widths, moments }: Peak, { tau, stated }: Filter): Warning | undefined {
  const half = (widths.halfHeight ?? 0) / (2 * halfWidthOfSigma);
  // The tail that a filter draws is not in the width at half height, but in the variance.
  const sigma = half === 0 ? 0 : Math.sqrt(Math.max(half * half, moments?.variance ?? 0));
  if (!(tau > leastShare * sigma) || sigma === 0) return undefined;
  const share = (tau / sigma) * (tau / sigma);
  const seconds = (minutes: number): string => `${(60 * minutes).toPrecision(2)} s`;
  const source = stated
    ? `The response time of the detector, ${seconds(tau)}, taken as the time constant of a first-order filter`
    : `The noise is correlated as behind a first-order filter of ${seconds(tau)}, which, if the detector has it`;
  const part = share < 1 ? `is ${(100 * share).toPrecision(2)} % of its variance` : 'could be all of its variance';
  const message = `${source}, moves the peak at ${at.toFixed(3)} min (standard deviation ${seconds(sigma)}) later by up to that and ${part}: it is lower, wider and less resolved than it was. Nothing was corrected.`;
  return { code: 'filter-lag', message, at };
}
