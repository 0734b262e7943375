import { checkPositive, resolveOptions } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { filterStretches, oddSamples } from './even-stretches.js';

/**
 * Settings of `smooth` with `method: 'moving average'`.
 *
 * @public
 */
export interface MovingAverageOptions {
  /** Mean of a moving window. */
  readonly method: 'moving average';
  /**
   * [min] Width of the window. It becomes the odd number of samples, at least 3, whose intervals together come closest to it.
   */
  readonly window: number;
}

const defaults = { method: 'moving average', window: 0 } as const;

/**
 * Mean of the window about each sample; white noise falls by the root of the
 * number of samples, and a Gaussian peak as wide at half height as the window
 * loses 19 % of its height. Towards the ends of a stretch the window
 * narrows on both sides alike, so that a straight line comes back unchanged and
 * the first and last sample stay.
 *
 * The running sum is begun anew once in every window, so that its rounding does not grow with the record.
 */
export function smoothMovingAverage(trace: Trace, options: MovingAverageOptions): Trace {
  const { window } = resolveOptions<{ method: string; window: number }>('smooth', defaults, options);
  checkPositive('smooth', 'window', window);
  return {
    ...trace,
    ...filterStretches(trace, 3, (stretch) => {
      const { values } = stretch;
      const n = values.length;
      const half = (oddSamples(stretch, window, 3, Infinity) - 1) / 2;
      const result = values.slice();
      const mean = (centre: number, reach: number): number => {
        let sum = 0;
        for (let k = centre - reach; k <= centre + reach; k++) sum += values[k]!;
        return sum;
      };
      let sum = 0;
      for (let i = half; i < n - half; i++) {
        if ((i - half) % (2 * half + 1) === 0) sum = mean(i, half);
        else sum += values[i + half]! - values[i - half - 1]!;
        result[i] = sum / (2 * half + 1);
      }
      let front = values[0]!;
      let back = values[n - 1]!;
      for (let i = 1; i < half; i++) {
        front += values[2 * i - 1]! + values[2 * i]!;
        back += values[n - 2 * i]! + values[n - 1 - 2 * i]!;
        result[i] = front / (2 * i + 1);
        result[n - 1 - i] = back / (2 * i + 1);
      }
      return result;
    }),
  };
}
