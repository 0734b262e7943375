import { checkPositive, checkWhole, resolveOptions } from '../core/index.js';
import { savitzkyGolay } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { filterStretches, oddSamples } from './even-stretches.js';

/**
 * Settings of `smooth` with `method: 'savitzky-golay'`.
 *
 * @public
 */
export interface SavitzkyGolayOptions {
  /** Least-squares polynomials in a moving window. */
  readonly method: 'savitzky-golay';
  /**
   * [min] Width of the window. It becomes the odd number of samples whose
   * intervals together come closest to it, which must be from 5 to 401. A
   * window about as wide as the narrowest peak at half height is usual
   * (common practice, no source).
   */
  readonly window: number;
  /**
   * [-] Degree of the polynomial, a whole number from 1 to 5 and below the
   * number of samples in the window.
   *
   * @defaultValue 2
   */
  readonly polynomial?: number | undefined;
  /**
   * [-] Derivative with respect to time in minutes, from 0 (the smoothed signal)
   * to `polynomial`. The unit of the result says so, for example `mAU/min`.
   *
   * @defaultValue 0
   */
  readonly derivative?: number | undefined;
}

interface Settings {
  readonly method: 'savitzky-golay';
  readonly window: number | undefined;
  readonly polynomial: number;
  readonly derivative: number;
}

const caller = 'smooth';

const defaults: Settings = { method: 'savitzky-golay', window: undefined, polynomial: 2, derivative: 0 };

/** [samples] The kernel takes no fewer than 5; above 401 working out its weights would take longer than smoothing. */
const narrowest = 5;
const widest = 401;

/**
 * Value at each sample of the polynomial that fits its window best.
 *
 * Area is kept, height lowered: with degree 2 or 3 a Gaussian peak as wide at
 * half height as the window loses 1.6 % of it, one twice as wide 0.12 %. White
 * noise falls by the root of the sum of the squared weights: with degree 2 to
 * 0.58 of itself for 7 samples, 0.30 for 25.
 *
 * The first and last half window of each stretch take the value of the
 * polynomial of the first and last full window there: nothing is invented
 * beyond the ends, and a polynomial of the fitted degree comes back unchanged
 * everywhere. Noise is less reduced there.
 *
 * @see A. Savitzky, M. J. E. Golay (1964), Anal. Chem. 36, 1627-1639; corrected by J. Steinier, Y. Termonia,
 *   J. Deltour (1972), Anal. Chem. 44, 1906-1909; ends after P. A. Gorry (1990), Anal. Chem. 62, 570-573
 */
export function smoothSavitzkyGolay(trace: Trace, options: SavitzkyGolayOptions): Trace {
  const { window, polynomial, derivative } = resolveOptions(caller, defaults, options);
  checkPositive(caller, 'window', window);
  checkWhole(caller, 'polynomial', polynomial, 1, 5);
  checkWhole(caller, 'derivative', derivative, 0, polynomial);
  const least = polynomial < narrowest ? narrowest : narrowest + 2;
  const { signal, warnings } = filterStretches(trace, narrowest, (stretch) => {
    const windowSize = oddSamples(stretch, window, least, widest, ', and more than polynomial');
    let values = savitzkyGolay(stretch.values, { windowSize, polynomial, derivative });
    for (let k = 0; k < derivative; k++) values = values.map((value) => value / stretch.step);
    return values;
  });
  const perMinute = ['', '/min', '/min²', '/min³', '/min⁴', '/min⁵'][derivative]!;
  return { ...trace, signal, signalUnit: trace.signalUnit + perMinute, warnings };
}
