import { checkPositive, fail, resolveOptions } from '../core/index.js';
import { exp } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { filterStretches } from './even-stretches.js';

/**
 * Settings of `smooth` with `method: 'gaussian'`.
 *
 * @public
 */
export interface GaussianSmoothOptions {
  /** Mean weighted by a Gaussian. */
  readonly method: 'gaussian';
  /** [min] Standard deviation of the Gaussian, from 0.3 to 500 samples. */
  readonly sigma: number;
}

const defaults = { method: 'gaussian', sigma: 0 } as const;
/** [samples] A narrower Gaussian does nothing; a wider one would take longer than doing it twice on a wider step. */
const narrowest = 0.3;
const widest = 500;
/** [sigma] Where the Gaussian is cut. */
const reach = 4;

/**
 * Mean of the samples about each, weighted by a Gaussian cut at four standard
 * deviations and scaled to a sum of 1: a Gaussian peak of standard deviation s
 * comes out with sqrt(s² + sigma²) and its height lowered by that ratio; white noise
 * falls to 0.53 of itself over the root of sigma in samples. Towards the ends the
 * Gaussian is cut on both sides alike, so that a straight line comes back
 * unchanged and the first and last sample stay.
 */
export function smoothGaussian(trace: Trace, options: GaussianSmoothOptions): Trace {
  const { sigma } = resolveOptions<{ method: string; sigma: number }>('smooth', defaults, options);
  checkPositive('smooth', 'sigma', sigma);
  return {
    ...trace,
    ...filterStretches(trace, 2, ({ values, step, start, end }) => {
      const width = sigma / step;
      if (!(width >= narrowest && width <= widest)) {
        fail(
          'smooth',
          'option-invalid',
          `a sigma of ${sigma} min is ${width.toPrecision(3)} samples of ${step.toPrecision(4)} min from ${start} to ${end} min. It must be ${narrowest} to ${widest}, here ${(narrowest * step).toPrecision(3)} to ${(widest * step).toPrecision(3)} min.`,
          { field: 'sigma', value: sigma, expected: `${narrowest} to ${widest} samples` },
        );
      }
      const n = values.length;
      const weights = Float64Array.from({ length: Math.floor(reach * width + 0.5) + 1 }, (_, k) =>
        exp((-0.5 * k * k) / (width * width)),
      );
      return values.map((value, i) => {
        let sum = value;
        let total = 1;
        for (let k = Math.min(weights.length - 1, i, n - 1 - i); k > 0; k--) {
          sum += weights[k]! * (values[i - k]! + values[i + k]!);
          total += 2 * weights[k]!;
        }
        return sum / total;
      });
    }),
  };
}
