import { describe, failOption, PeakwrightError, resolveOptions } from '../core/index.js';
import { buildTrace, type TraceInput } from './create-trace.js';
import { sliceTrace } from './crop-trace.js';
import { firstAtOrAfter } from './stretches.js';
import type { Trace } from './trace.js';
import { minutesPer, parseTimeUnit } from './units.js';

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
  if (!Number.isFinite(before) || before < 0) failOption(caller, 'before', 'a number, 0 or more', before);
  checkMarks(caller, marks);
  if (input.injectedAt !== undefined)
    failOption(caller, 'injectedAt', 'absent, since marks are given', input.injectedAt);
  const origin = marks[0]!;
  const whole = buildTrace(caller, { ...input, injectedAt: origin });
  const { times, over } = minutesPer[parseTimeUnit(whole.meta.timeUnit.unit)!];
  const inMinutes = (span: number) => (span * times) / over;
  const starts = Array.from(marks, (mark) => inMinutes(mark - origin));
  return starts.map((start, k) => {
    const first = firstAtOrAfter(whole.time, start - inMinutes(before));
    const next = starts[k + 1];
    const end = next === undefined ? whole.time.length : firstAtOrAfter(whole.time, next);
    if (end - first < 2) {
      throw new PeakwrightError(
        'trace-too-short',
        `${caller}: ${Math.max(0, end - first)} samples belong to the injection at ${marks[k]!} (mark ${k}); a trace needs 2.`,
        { index: k, field: 'marks', value: marks[k]!, expected: 'at least 2 samples after it' },
      );
    }
    const time = whole.time.slice(first, end);
    for (let i = 0; i < time.length; i++) time[i] = time[i]! - start;
    const part = sliceTrace(whole, first, end, time, whole.signal.slice(first, end));
    return {
      ...part,
      gaps: part.gaps.map((gap) => ({ from: gap.from - start, to: gap.to - start })),
      meta: { ...part.meta, injectedAt: inMinutes(marks[k]!), injectionNumber: k + 1 },
      warnings: part.warnings.map((warning) =>
        warning.at === undefined ? warning : { ...warning, at: warning.at - start },
      ),
    };
  });
}

function checkMarks(caller: string, marks: ArrayLike<number>): void {
  if (typeof marks !== 'object' || marks === null || !(marks.length >= 1)) {
    failOption(caller, 'marks', 'an array of at least one time of injection', marks);
  }
  for (let k = 0; k < marks.length; k++) {
    const mark = marks[k];
    if (Number.isFinite(mark) && (k === 0 || mark! > marks[k - 1]!)) continue;
    throw new PeakwrightError(
      'option-invalid',
      `${caller}: marks[${k}] is ${describe(mark)}; marks must be numbers, each later than the one before it.`,
      { index: k, field: 'marks', value: mark, expected: k === 0 ? 'a finite number' : `later than ${marks[k - 1]!}` },
    );
  }
}
