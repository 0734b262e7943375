import { checkNumber, failOption, resolveOptions } from '../core/index.js';
import { firstAtOrAfter } from '../numeric/index.js';
import { firstAfter } from './gaps.js';
import { checkEnough } from './stretches.js';
import type { Trace } from './trace.js';

/**
 * Options of {@link cropTrace}.
 *
 * @public
 */
export interface CropOptions {
  /**
   * [min] Samples before it are left out.
   *
   * @defaultValue the first time
   */
  readonly from?: number | undefined;
  /**
   * [min] Samples after it are left out.
   *
   * @defaultValue the last time
   */
  readonly to?: number | undefined;
}

/**
 * Keeps the samples from one time to another, both included. Time goes on
 * counting from where it did. Gaps and warnings that lie outside go with their
 * samples; no sample is made up at the two limits.
 *
 * @param trace - The trace; read, never changed.
 * @param options - The limits; see {@link CropOptions}.
 *
 * @returns A new trace of at least 2 samples.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a limit is not finite or
 *   `from` is not before `to`; `trace-too-short` when fewer than 2 samples lie
 *   between them.
 *
 * @example
 * ```ts
 * const trace = createTrace({ time: [0, 1, 2, 3], signal: [5, 6, 7, 8], timeUnit: 'min', signalUnit: 'mAU' });
 * Array.from(cropTrace(trace, { from: 0.5, to: 2 }).signal); // => [6, 7]
 * ```
 *
 * @public
 */
export function cropTrace(trace: Trace, options: CropOptions): Trace {
  const caller = 'cropTrace';
  const { time } = trace;
  const { from, to } = resolveOptions<{ from: number; to: number }>(
    caller,
    { from: time[0]!, to: time.at(-1)! },
    options,
  );
  checkNumber(caller, 'from', from);
  checkNumber(caller, 'to', to);
  if (from >= to) failOption(caller, 'to', `after from (${from} min)`, to);
  const first = firstAtOrAfter(time, from);
  const end = firstAfter(time, to);
  checkEnough(caller, trace, 'from', end - first, `lie from ${from} to ${to} min`);
  return sliceTrace(trace, first, end);
}

/** Samples `first` to `end - 1` of a trace, with the gaps and warnings that belong to them. */
export function sliceTrace(trace: Trace, first: number, end: number): Trace {
  const time = trace.time.slice(first, end);
  const [from, to] = [time[0]!, time.at(-1)!];
  return {
    ...trace,
    time,
    signal: trace.signal.slice(first, end),
    gaps: trace.gaps.filter((gap) => gap.from >= from && gap.to <= to),
    warnings: trace.warnings.filter(({ at }) => at === undefined || (at >= from && at <= to)),
  };
}
