import { checkPositive, checkWhole, fail, resolveOptions, type Warning } from '../core/index.js';
import { interpolateLinear, savitzkyGolay } from '../numeric/index.js';
import { intervalQuantile, isEven, stretchesOf, type Trace } from '../trace/index.js';

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
/** [-] The grid for unevenly sampled stretches has no more points than this for each sample. */
const finest = 20;

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
  const signal = new Float64Array(trace.signal.length);
  const warnings: Warning[] = [...trace.warnings];
  for (const { from, to } of stretchesOf(trace)) {
    const time = trace.time.subarray(from, to + 1);
    const readings = trace.signal.subarray(from, to + 1);
    const [start, end] = [time[0]!, time.at(-1)!];
    if (time.length < narrowest) failTooShort(time, narrowest);
    const grid = isEven(time) ? time : evenGrid(time);
    const step = (end - start) / (grid.length - 1);
    const windowSize = 2 * Math.round((window / step - 1) / 2) + 1;
    if (windowSize < narrowest || windowSize > widest || windowSize <= polynomial) {
      fail(
        caller,
        'option-invalid',
        `a window of ${window} min is ${windowSize} samples of ${step.toPrecision(4)} min from ${start} to ${end} min. It must hold ${narrowest} to ${widest}, here ${(narrowest * step).toPrecision(3)} to ${(widest * step).toPrecision(3)} min, and more than polynomial; to smooth more do it twice, or widen the step with resampleTrace.`,
        { field: 'window', value: window, expected: `${narrowest} to ${widest} samples` },
      );
    }
    if (grid.length < windowSize) failTooShort(grid, windowSize);
    let values = grid === time ? readings : interpolateLinear(time, readings, grid);
    values = savitzkyGolay(values, { windowSize, polynomial, derivative });
    for (let k = 0; k < derivative; k++) values = values.map((value) => value / step);
    if (grid !== time) {
      values = interpolateLinear(grid, values, time);
      const message = `From ${start} to ${end} min the samples are not even: resampled ${step.toPrecision(3)} min apart on straight lines, smoothed, and read back.`;
      warnings.push({ code: 'smoothed-on-resampled', message, at: start });
    }
    signal.set(values, from);
  }
  const perMinute = ['', '/min', '/min²', '/min³', '/min⁴', '/min⁵'][derivative]!;
  return { ...trace, signal, signalUnit: trace.signalUnit + perMinute, warnings };
}

/**
 * Equal steps over a stretch, near the interval that a quarter of its samples
 * do not exceed: fine enough for the faster of two rates, not ruled by the few
 * closest samples of a jittered one.
 */
function evenGrid(time: Float64Array): Float64Array {
  const [start, end] = [time[0]!, time.at(-1)!];
  const steps = Math.ceil((end - start) / intervalQuantile(time, 0.25));
  const last = Math.max(1, Math.min(steps, finest * time.length - 1));
  return Float64Array.from({ length: last + 1 }, (_, i) => (i === last ? end : start + (i * (end - start)) / last));
}

function failTooShort(time: Float64Array, needed: number): never {
  fail(
    caller,
    'trace-too-short',
    `the stretch from ${time[0]!} to ${time.at(-1)!} min has ${time.length} samples and the window ${needed}; narrow the window, or take the stretch off with cropTrace.`,
    { field: 'window', value: time.length, expected: `at least ${needed} samples` },
  );
}
