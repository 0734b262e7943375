import { checkNotNegative, defined, failOption, resolveOptions } from '../core/index.js';
import { firstAtOrAfter } from '../numeric/index.js';
import { buildTrace, type TraceInput } from './create-trace.js';
import { sliceTrace } from './crop-trace.js';
import { checkEnough, copyIncreasing } from './stretches.js';
import type { Trace } from './trace.js';
import { perMinute, type TimeUnit } from './units.js';

/**
 * Options of {@link splitAtInjections}.
 *
 * @public
 */
export interface SplitOptions {
  /**
   * [unit of `time`] How much of the record before each injection its trace
   * keeps, at negative times; it stays at the end of the trace before as well.
   *
   * @defaultValue 0
   */
  readonly before?: number | undefined;
}

const defaults: { readonly before: number } = { before: 0 };

/**
 * Cuts one record that holds several injections into one trace for each. Trace
 * k holds the samples from mark k up to, but not including, the next mark (the
 * last: to the end), and its time counts from its mark. Samples before the
 * first mark belong to no injection and are left out, except what `before`
 * asks for. What an injection elutes after the next mark falls into the next
 * trace: this function cannot know.
 *
 * @param input - The record, as for {@link createTrace}, without `injectedAt`.
 * @param marks - [unit of `time`] At least one moment of injection, increasing.
 * @param options - See {@link SplitOptions}.
 *
 * @returns One trace for each mark, in order; `meta.injectionNumber` counts them from 1.
 *
 * @throws {@link PeakwrightError} `option-invalid` when there is no mark, a mark is
 *   not finite or not later than the one before it, or `injectedAt` is given too;
 *   `trace-too-short` when fewer than 2 samples belong to a mark; and what
 *   {@link createTrace} throws.
 *
 * @example
 * ```ts
 * const record = { time: [0, 1, 2, 3, 4], signal: [9, 1, 2, 3, 4], timeUnit: 'min', signalUnit: 'mAU' };
 * const traces = splitAtInjections(record, [1, 3]);
 * traces.map((trace) => Array.from(trace.time)); // => [[0, 1], [0, 1]]
 * ```
 *
 * @public
 */
export function splitAtInjections(input: TraceInput, marks: ArrayLike<number>, options: SplitOptions = {}): Trace[] {
  const caller = 'splitAtInjections';
  const { before } = resolveOptions(caller, defaults, options);
  checkNotNegative(caller, 'before', before);
  const moments = copyIncreasing(caller, 'marks', marks, -1e100, 1e100);
  const [origin] = moments;
  if (origin === undefined) failOption(caller, 'marks', 'at least one moment of injection', marks);
  if (input.injectedAt !== undefined) failOption(caller, 'injectedAt', 'absent, as marks are given', input.injectedAt);
  const whole = buildTrace(caller, { ...input, injectedAt: origin });
  const { time, meta } = whole;
  const scale = perMinute[meta.timeUnit.unit as TimeUnit];
  const starts = moments.map((mark) => (mark - origin) / scale);
  return Array.from(starts, (start, k) => {
    const first = firstAtOrAfter(time, start - before / scale);
    const end = firstAtOrAfter(time, starts[k + 1] ?? Infinity);
    checkEnough(caller, whole, 'marks', Math.max(0, end - first), `belong to the injection at marks[${k}]`);
    const part = sliceTrace(whole, first, end);
    return {
      ...part,
      time: part.time.map((t) => t - start),
      gaps: part.gaps.map(({ from, to }) => ({ from: from - start, to: to - start })),
      meta: { ...meta, injectedAt: moments[k]! / scale, injectionNumber: k + 1 },
      warnings: part.warnings.map((warning) => defined({ ...warning, at: warning.at && warning.at - start })),
    };
  });
}
