import { checkPositive, failOption, resolveOptions } from '../core/index.js';
import { interpolateLinear } from '../numeric/index.js';
import { findGaps, gapsFrom, timesInside, valuesOutside } from './gaps.js';
import { checkEnough, copyIncreasing } from './stretches.js';
import type { Trace } from './trace.js';

/**
 * Options of {@link resampleTrace}: an even step, or the times themselves.
 *
 * @public
 */
export type ResampleOptions =
  | {
      /** [min] Interval of the new samples, the first at the first sample of the trace. */
      readonly step: number;
    }
  | {
      /** [min] The new times, strictly increasing, inside the record. */
      readonly time: ArrayLike<number>;
    };

/** [-] A step that would make more samples than this is taken for a slip of the pen. */
const mostSamples = 1e8;

/**
 * Reads a trace at other times, on straight lines between its samples; at a
 * sample, its reading exactly. It does not average: a step wider than the
 * sampling leaves samples unused.
 *
 * Nothing is invented. A new time strictly inside a gap gets no sample, so the
 * gap stays a gap, between the new samples around it; times before the first
 * or after the last sample are refused. The result carries a warning that it
 * was resampled, from how many samples to how many, since noise between samples
 * comes out lower and correlated.
 *
 * @param trace - The trace; read, never changed.
 * @param options - Either `step` or `time`; see {@link ResampleOptions}.
 *
 * @returns A new trace on the new times.
 *
 * @throws {@link PeakwrightError} `option-invalid` when the options are not one
 *   of the two, the step is not above 0, or a time is not finite, not later than
 *   the one before it or outside the record; `trace-too-short` when fewer than 2
 *   samples would be made.
 *
 * @example
 * ```ts
 * const trace = createTrace({ time: [0, 1, 3], signal: [0, 2, 6], timeUnit: 'min', signalUnit: 'mAU' });
 * Array.from(resampleTrace(trace, { step: 1.5 }).signal); // => [0, 3, 6]
 * ```
 *
 * @public
 */
export function resampleTrace(trace: Trace, options: ResampleOptions): Trace {
  const caller = 'resampleTrace';
  const { step, time: wanted } = resolveOptions<{ step: number | undefined; time: ArrayLike<number> | undefined }>(
    caller,
    { step: undefined, time: undefined },
    options,
  );
  const [start, end] = [trace.time[0]!, trace.time.at(-1)!];
  if (step !== undefined && wanted !== undefined) failOption(caller, 'step', 'absent, as time is given', step);
  const targets =
    wanted === undefined ? evenTimes(caller, start, end, step) : copyIncreasing(caller, 'time', wanted, start, end);
  const time = valuesOutside(targets, timesInside(targets, trace.gaps));
  checkEnough(caller, trace, wanted === undefined ? 'step' : 'time', time.length, 'would lie where there is data');
  const message = `Resampled from ${trace.time.length} to ${time.length} samples on straight lines, without averaging; noise between the old samples is lower and correlated.`;
  return {
    ...trace,
    time,
    signal: interpolateLinear(trace.time, trace.signal, time),
    gaps: gapsFrom(time, [...findGaps(time), ...trace.gaps.map(({ from }) => from)]),
    warnings: [...trace.warnings, { code: 'resampled', message }],
  };
}

function evenTimes(caller: string, start: number, end: number, step: unknown): Float64Array {
  checkPositive(caller, 'step', step);
  // A step that divides the record shall reach its end in spite of rounding.
  const count = Math.floor((end - start) / step + 1e-9) + 1;
  if (count > mostSamples) failOption(caller, 'step', `at least ${(end - start) / mostSamples} min here`, step);
  return Float64Array.from({ length: count }, (_, i) => Math.min(start + i * step, end));
}
