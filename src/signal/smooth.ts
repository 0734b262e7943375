import { checkOneOf } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { smoothGaussian, type GaussianSmoothOptions } from './smooth-gaussian.js';
import { smoothMedian, type MedianOptions } from './smooth-median.js';
import { smoothMovingAverage, type MovingAverageOptions } from './smooth-moving-average.js';
import { smoothSavitzkyGolay, type SavitzkyGolayOptions } from './smooth-savitzky-golay.js';
import { smoothWhittaker, type WhittakerOptions } from './smooth-whittaker.js';

/**
 * Options of {@link smooth}: the method by name and the settings of that
 * method, so that a setting of one method cannot be given to another.
 *
 * @public
 */
export type SmoothOptions =
  SavitzkyGolayOptions | MovingAverageOptions | GaussianSmoothOptions | MedianOptions | WhittakerOptions;

const methods = ['savitzky-golay', 'moving average', 'gaussian', 'median', 'whittaker'];

/**
 * Smooths a trace, or takes its derivative. For looking, and for methods that
 * ask for it: areas and heights are always taken from the raw signal.
 *
 * - `'savitzky-golay'`: least-squares polynomials in a moving window; keeps
 *   areas, lowers narrow peaks. See {@link SavitzkyGolayOptions}.
 * - `'moving average'`: the mean of a moving window. See {@link MovingAverageOptions}.
 * - `'gaussian'`: a mean weighted by a Gaussian. See {@link GaussianSmoothOptions}.
 * - `'median'`: the median of a moving window; takes spikes out and keeps edges. See {@link MedianOptions}.
 * - `'whittaker'`: penalised least squares over the whole stretch. See {@link WhittakerOptions}.
 *
 * All settings of width are in minutes. Savitzky-Golay, moving average, Gaussian and median use windows that narrow, or
 * polynomials that end, at the ends of a stretch: nothing is invented beyond them.
 *
 * The result has the time axis of the trace and the same gaps; each stretch
 * between gaps is smoothed on its own. A stretch that is not evenly sampled is
 * resampled on straight lines first and read back at its own times, with a
 * warning.
 *
 * @param trace - N samples; read, never changed.
 * @param options - The method and its settings.
 *
 * @returns A new trace of N samples.
 *
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown` when a
 *   setting breaks its documented range or name; `trace-too-short` when a
 *   stretch has fewer samples than the window.
 *
 * @example
 * A cubic comes back unchanged, ends included.
 * ```ts
 * const trace = createTrace({ time: [0, 1, 2, 3, 4, 5], signal: [0, 1, 8, 27, 64, 125], timeUnit: 'min', signalUnit: 'mAU' });
 * const smoothed = smooth(trace, { method: 'savitzky-golay', window: 5, polynomial: 3 });
 * Array.from(smoothed.signal, (y) => Math.round(y * 1e9) / 1e9); // => [0, 1, 8, 27, 64, 125]
 * ```
 *
 * @public
 */
export function smooth(trace: Trace, options: SmoothOptions): Trace {
  checkOneOf('smooth', 'method', options?.method, methods);
  switch (options.method) {
    case 'savitzky-golay':
      return smoothSavitzkyGolay(trace, options);
    case 'moving average':
      return smoothMovingAverage(trace, options);
    case 'gaussian':
      return smoothGaussian(trace, options);
    case 'median':
      return smoothMedian(trace, options);
    case 'whittaker':
      return smoothWhittaker(trace, options);
  }
}
