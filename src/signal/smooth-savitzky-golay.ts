import { failOption, PeakwrightError, resolveOptions, type Warning } from '../core/index.js';
import { interpolateLinear, savitzkyGolay } from '../numeric/index.js';
import { evenInterval, intervalQuantile, stretchesOf, type SampleRange, type Trace } from '../trace/index.js';

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
  readonly window: number;
  readonly polynomial: number;
  readonly derivative: number;
}

const caller = 'smooth';

const defaults: Settings = { method: 'savitzky-golay', window: Number.NaN, polynomial: 2, derivative: 0 };

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
  const settings = resolveOptions(caller, defaults, options);
  const { window, polynomial, derivative } = settings;
  if (!Number.isFinite(window) || window <= 0)
    failOption(caller, 'window', 'a number of minutes above 0', options.window);
  if (!Number.isInteger(polynomial) || polynomial < 1 || polynomial > 5) {
    failOption(caller, 'polynomial', 'a whole number from 1 to 5', polynomial);
  }
  if (!Number.isInteger(derivative) || derivative < 0 || derivative > polynomial) {
    failOption(caller, 'derivative', `a whole number from 0 to polynomial (${polynomial})`, derivative);
  }
  const signal = new Float64Array(trace.signal.length);
  const warnings: Warning[] = [...trace.warnings];
  for (const range of stretchesOf(trace)) {
    const { values, warning } = smoothStretch(trace, range, settings);
    signal.set(values, range.from);
    if (warning !== undefined) warnings.push(warning);
  }
  return { ...trace, signal, signalUnit: derivedUnit(trace.signalUnit, derivative), warnings };
}

function smoothStretch(
  trace: Trace,
  range: SampleRange,
  settings: Settings,
): { values: Float64Array; warning?: Warning } {
  const time = trace.time.subarray(range.from, range.to + 1);
  const signal = trace.signal.subarray(range.from, range.to + 1);
  const all = { from: 0, to: time.length - 1 };
  if (time.length < narrowest) failTooShort(time, narrowest);
  const even = evenInterval(time, all);
  if (even !== undefined) return { values: fitted(time, signal, even, settings) };

  const start = time[0]!;
  const span = time[time.length - 1]! - start;
  const grid = evenGrid(start, span, intervalQuantile(time, all, 0.25), time.length);
  const step = span / (grid.length - 1);
  const smoothed = fitted(grid, interpolateLinear(time, signal, grid), step, settings);
  const message = `From ${start} to ${time[time.length - 1]!} min the samples are not evenly spaced; they were resampled ${step.toPrecision(3)} min apart on straight lines, smoothed, and read back at their own times.`;
  return {
    values: interpolateLinear(grid, smoothed, time),
    warning: { code: 'smoothed-on-resampled', message, at: start },
  };
}

/**
 * Equal steps over a stretch, near the interval that a quarter of its samples
 * do not exceed: fine enough for the faster of two rates, not ruled by the few
 * closest samples of a jittered one.
 */
function evenGrid(start: number, span: number, interval: number, samples: number): Float64Array {
  const count = Math.max(2, Math.min(Math.ceil(span / interval) + 1, finest * samples));
  const grid = new Float64Array(count);
  for (let i = 0; i < count - 1; i++) grid[i] = start + (i * span) / (count - 1);
  grid[count - 1] = start + span;
  return grid;
}

function fitted(time: Float64Array, signal: Float64Array, step: number, settings: Settings): Float64Array {
  const { window, polynomial, derivative } = settings;
  const windowSize = 2 * Math.round((window / step - 1) / 2) + 1;
  if (windowSize < narrowest || windowSize > widest) {
    const advice =
      windowSize < narrowest
        ? 'take a wider window'
        : 'smooth twice with a narrower one, or bring the trace to a wider step with resampleTrace first';
    throw new PeakwrightError(
      'option-invalid',
      `${caller}: a window of ${window} min is ${windowSize} samples of ${step.toPrecision(4)} min; it must hold ${narrowest} to ${widest}, here ${(narrowest * step).toPrecision(3)} to ${(widest * step).toPrecision(3)} min (from ${time[0]!} to ${time[time.length - 1]!} min of the record): ${advice}.`,
      { field: 'window', value: window, expected: `${narrowest} to ${widest} samples` },
    );
  }
  if (polynomial >= windowSize)
    failOption(caller, 'polynomial', `below the ${windowSize} samples of the window`, polynomial);
  if (signal.length < windowSize) failTooShort(time, windowSize);
  const values = savitzkyGolay(signal, { windowSize, polynomial, derivative });
  for (let k = 0; k < derivative; k++) for (let i = 0; i < values.length; i++) values[i] = values[i]! / step;
  return values;
}

function failTooShort(time: Float64Array, needed: number): never {
  throw new PeakwrightError(
    'trace-too-short',
    `${caller}: the stretch from ${time[0]!} to ${time[time.length - 1]!} min has ${time.length} samples and the window ${needed}; take a narrower window, or crop the stretch off with cropTrace.`,
    { field: 'window', value: time.length, expected: `at least ${needed} samples` },
  );
}

function derivedUnit(unit: string, derivative: number): string {
  const powers = ['', '/min', '/min²', '/min³', '/min⁴', '/min⁵'];
  return `${unit}${powers[derivative]!}`;
}
