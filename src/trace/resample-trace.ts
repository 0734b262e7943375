import { describe, failOption, PeakwrightError, resolveOptions, type Warning } from '../core/index.js';
import { interpolateLinear } from '../numeric/index.js';
import { findGaps, gapsAfter } from './gaps.js';
import { firstAtOrAfter, intervalQuantile } from './stretches.js';
import type { Gap, Trace } from './trace.js';

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
 * sampling leaves samples unused, and says so.
 *
 * Nothing is invented. A new time strictly inside a gap gets no sample, so the
 * gap stays a gap, between the new samples around it; times before the first
 * or after the last sample are refused. The result carries a warning that it
 * was resampled, since noise between samples comes out lower and correlated.
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
  if ((step === undefined) === (wanted === undefined)) {
    failOption(caller, 'step', 'given without time, or time without step', step);
  }
  const targets = step === undefined ? checkTimes(caller, trace, wanted!) : evenTimes(caller, trace, step);
  const time = outsideGaps(targets, trace.gaps);
  if (time.length < 2) {
    throw new PeakwrightError(
      'trace-too-short',
      `${caller}: ${time.length} of ${targets.length} new times lie where there is data; a trace needs 2.`,
      { field: step === undefined ? 'time' : 'step', value: time.length, expected: 'at least 2 samples' },
    );
  }
  return {
    ...trace,
    time,
    signal: interpolateLinear(trace.time, trace.signal, time),
    gaps: gapsAfter(time, [...findGaps(time), ...seams(time, trace.gaps)]),
    warnings: [...trace.warnings, ...warnOf(trace, time)],
  };
}

function evenTimes(caller: string, trace: Trace, step: number): Float64Array {
  const start = trace.time[0]!;
  const end = trace.time[trace.time.length - 1]!;
  if (!Number.isFinite(step) || step <= 0) failOption(caller, 'step', 'a number of minutes above 0', step);
  // A step that divides the record shall reach its end in spite of rounding.
  const count = Math.floor((end - start) / step + 1e-9) + 1;
  if (count > mostSamples) failOption(caller, 'step', `at least ${(end - start) / mostSamples} min here`, step);
  const time = new Float64Array(count);
  for (let i = 0; i < count; i++) time[i] = Math.min(start + i * step, end);
  return time;
}

function checkTimes(caller: string, trace: Trace, wanted: ArrayLike<number>): Float64Array {
  if (typeof wanted !== 'object' || wanted === null || !Number.isInteger(wanted.length)) {
    failOption(caller, 'time', 'an array of numbers', wanted);
  }
  const start = trace.time[0]!;
  const end = trace.time[trace.time.length - 1]!;
  for (let i = 0; i < wanted.length; i++) {
    const t = wanted[i];
    const later = i === 0 || t! > wanted[i - 1]!;
    if (Number.isFinite(t) && t! >= start && t! <= end && later) continue;
    throw new PeakwrightError(
      'option-invalid',
      `${caller}: time[${i}] is ${describe(t)}; new times must be numbers in increasing order from ${start} to ${end} min, where there is data.`,
      { index: i, field: 'time', value: t, expected: `from ${start} to ${end}, increasing` },
    );
  }
  return Float64Array.from(wanted);
}

/** The targets that are not strictly inside a gap. */
function outsideGaps(targets: Float64Array, gaps: readonly Gap[]): Float64Array {
  if (gaps.length === 0) return targets;
  let g = 0;
  return targets.filter((t) => {
    while (g < gaps.length && gaps[g]!.to <= t) g++;
    return g === gaps.length || t <= gaps[g]!.from;
  });
}

/** Indices of the new samples after which a gap of the source lies. */
function seams(time: Float64Array, gaps: readonly Gap[]): number[] {
  return gaps.map((gap) => firstAtOrAfter(time, gap.to) - 1).filter((i) => i >= 0 && i + 1 < time.length);
}

function warnOf(trace: Trace, time: Float64Array): Warning[] {
  const before = trace.time.length;
  const warnings: Warning[] = [
    {
      code: 'resampled',
      message: `Resampled from ${before} to ${time.length} samples on straight lines; noise between the old samples is lower and correlated.`,
    },
  ];
  const old = intervalQuantile(trace.time, { from: 0, to: before - 1 }, 0.5);
  const now = intervalQuantile(time, { from: 0, to: time.length - 1 }, 0.5);
  if (now > 1.5 * old) {
    warnings.push({
      code: 'resampled-coarser',
      message: `The new samples are usually ${now.toPrecision(3)} min apart, the old ones ${old.toPrecision(3)} min; what lay between was not used.`,
    });
  }
  return warnings;
}
