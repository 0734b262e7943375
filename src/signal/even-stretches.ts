import { fail, type Warning } from '../core/index.js';
import { interpolateLinear } from '../numeric/index.js';
import { intervalQuantile, isEven, stretchesOf, type Trace } from '../trace/index.js';

/** An evenly sampled stretch of a record between gaps. */
export interface EvenStretch {
  /** [signal unit] At least two values. */
  readonly values: Float64Array;
  /** [min] Distance of two. */
  readonly step: number;
  /** [min] Times of the first and the last. */
  readonly start: number;
  readonly end: number;
}

const caller = 'smooth';

/** [-] The grid for unevenly sampled stretches has no more points than this for each sample. */
const finest = 20;

/**
 * Filters each stretch between gaps on its own. One that is not evenly sampled
 * is resampled on straight lines and read back at its own times, with a warning.
 */
export function filterStretches(
  trace: Trace,
  fewest: number,
  filter: (stretch: EvenStretch) => Float64Array,
): Pick<Trace, 'signal' | 'warnings'> {
  const signal = new Float64Array(trace.signal.length);
  const warnings: Warning[] = [...trace.warnings];
  for (const { from, to } of stretchesOf(trace)) {
    const time = trace.time.subarray(from, to + 1);
    const readings = trace.signal.subarray(from, to + 1);
    const [start, end] = [time[0]!, time.at(-1)!];
    if (time.length < fewest) failTooShort(start, end, time.length, fewest);
    const grid = isEven(time) ? time : evenGrid(time);
    const step = (end - start) / (grid.length - 1);
    const even = grid === time ? readings : interpolateLinear(time, readings, grid);
    let values = filter({ values: even, step, start, end });
    if (grid !== time) {
      values = interpolateLinear(grid, values, time);
      const message = `From ${start} to ${end} min the samples are not even: resampled ${step.toPrecision(3)} min apart on straight lines, smoothed, and read back.`;
      warnings.push({ code: 'smoothed-on-resampled', message, at: start });
    }
    signal.set(values, from);
  }
  return { signal, warnings };
}

/**
 * Odd number of samples whose intervals together come closest to a window, from
 * `narrowest` to `widest` and no more than the stretch has.
 */
export function oddSamples(
  { values, step, start, end }: EvenStretch,
  window: number,
  narrowest: number,
  widest: number,
  more = '',
): number {
  const samples = 2 * Math.round((window / step - 1) / 2) + 1;
  if (samples < narrowest || samples > widest) {
    fail(
      caller,
      'option-invalid',
      `a window of ${window} min is ${samples} samples of ${step.toPrecision(4)} min from ${start} to ${end} min. It must hold ${narrowest} to ${widest}, here ${(narrowest * step).toPrecision(3)} to ${(widest * step).toPrecision(3)} min${more}; to smooth more do it twice, or widen the step with resampleTrace.`,
      { field: 'window', value: window, expected: `${narrowest} to ${widest} samples` },
    );
  }
  if (values.length < samples) failTooShort(start, end, values.length, samples);
  return samples;
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

function failTooShort(start: number, end: number, value: number, needed: number): never {
  fail(
    caller,
    'trace-too-short',
    `the stretch from ${start} to ${end} min has ${value} samples and the window ${needed}; narrow the window, or take the stretch off with cropTrace.`,
    { field: 'window', value, expected: `at least ${needed} samples` },
  );
}
