import { checkPositive, resolveOptions } from '../core/index.js';
import { firstAtOrAfter } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { filterStretches, oddSamples } from './even-stretches.js';

/**
 * Settings of `smooth` with `method: 'median'`.
 *
 * @public
 */
export interface MedianOptions {
  /** Median of a moving window. */
  readonly method: 'median';
  /**
   * [min] Width of the window. It becomes the odd number of samples, from 3 to 4001, whose intervals together come closest to it.
   */
  readonly window: number;
}

const defaults = { method: 'median', window: 0 } as const;
/** [samples] The cost is that of moving half a window in memory for every sample. */
const widest = 4001;

/**
 * Median of the window about each sample: spikes shorter than half the window
 * vanish, edges stay where they are, the tops of peaks are cut. Towards the ends of a
 * stretch the window narrows on both sides alike, so that what only rises or
 * only falls comes back unchanged.
 */
export function smoothMedian(trace: Trace, options: MedianOptions): Trace {
  const { window } = resolveOptions<{ method: string; window: number }>('smooth', defaults, options);
  checkPositive('smooth', 'window', window);
  return {
    ...trace,
    ...filterStretches(trace, 3, (stretch) => {
      const { values } = stretch;
      const n = values.length;
      const half = (oddSamples(stretch, window, 3, widest) - 1) / 2;
      const result = values.slice();
      // The values of the window in order; the window grows from the first sample, moves on, and shrinks to the last.
      const sorted = new Float64Array(2 * half + 1);
      let count = 0;
      const put = (value: number): void => {
        const at = firstAtOrAfter(sorted.subarray(0, count), value);
        sorted.copyWithin(at + 1, at, count++);
        sorted[at] = value;
      };
      const take = (value: number): void => {
        const at = firstAtOrAfter(sorted.subarray(0, count), value);
        sorted.copyWithin(at, at + 1, count--);
      };
      let from = 0;
      let to = -1;
      for (let i = 0; i < n; i++) {
        const reach = Math.min(half, i, n - 1 - i);
        while (from < i - reach) take(values[from++]!);
        while (to < i + reach) put(values[++to]!);
        result[i] = sorted[(count - 1) >> 1]!;
      }
      return result;
    }),
  };
}
