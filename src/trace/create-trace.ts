import { checkNumber, checkOneOf, failOption, resolveOptions, type Warning } from '../core/index.js';
import { findGaps, gapsFrom } from './gaps.js';
import { resolveMeta, type GivenMeta } from './resolve-meta.js';
import { statedSignalUnit, statedTimeUnit } from './resolve-units.js';
import type { Trace, UnitProvenance } from './trace.js';
import { treatSamples, type BackwardTimes, type DuplicateTimes, type Rules } from './treat-samples.js';
import { perBase, perMinute } from './units.js';

/**
 * What {@link createTrace} needs besides the samples.
 *
 * @public
 */
export interface TraceDescription {
  /** Unit of `time`, as {@link parseTimeUnit} reads it, for example `'min'` or `'s'`. Required. */
  readonly timeUnit?: string | undefined;
  /**
   * Unit of `signal`, as {@link parseSignalUnit} reads it, for example `'mAU'`
   * or `'µV'`. Required. Another unit, such as `'counts'`, is kept as stated,
   * with a warning that nothing can convert it without a scale.
   */
  readonly signalUnit?: string | undefined;
  /**
   * How the two units came to be known, when the caller read them out of a
   * column header (`'inferred'`) or took them for granted (`'assumed'`, which
   * adds a warning).
   *
   * @defaultValue both `'declared'`
   */
  readonly unitProvenance?: {
    readonly time?: UnitProvenance | undefined;
    readonly signal?: UnitProvenance | undefined;
  };
  /**
   * [unit of `time`] Moment of injection on the axis of `time`. Time then counts
   * from it, and samples before it stay, at negative times. `0` says that the
   * times given count from injection already.
   *
   * @defaultValue none: time is kept as given and `meta.timeOrigin` says that it counts from the start of the record
   */
  readonly injectedAt?: number | undefined;
  /**
   * What to do with a sample whose time or reading is NaN, infinite (or beyond
   * 1e100), `null` or absent: refuse the record, or leave the sample out and record a gap there.
   *
   * @defaultValue 'refuse'
   */
  readonly missing?: 'refuse' | 'gap' | undefined;
  /**
   * What to do with samples at one time: refuse the record, keep the first, or
   * take their mean.
   *
   * @defaultValue 'refuse'
   */
  readonly duplicateTimes?: DuplicateTimes | undefined;
  /**
   * What to do with samples earlier than one before them: refuse the record, or
   * drop them.
   *
   * @defaultValue 'refuse'
   */
  readonly backwardTimes?: BackwardTimes | undefined;
  /** What else is known about the record. */
  readonly meta?: GivenMeta | undefined;
}

/**
 * Input of {@link createTrace}: N times and N readings, under either pair of
 * names, and what they are.
 *
 * @public
 */
export type TraceInput = TraceDescription &
  (
    | {
        /** [timeUnit] N times. */
        readonly time: ArrayLike<number>;
        /** [signalUnit] N readings. */
        readonly signal: ArrayLike<number>;
      }
    | {
        /** [timeUnit] N times. */
        readonly x: ArrayLike<number>;
        /** [signalUnit] N readings. */
        readonly y: ArrayLike<number>;
      }
  );

interface Given extends Required<Omit<TraceDescription, keyof Rules>>, Rules {
  readonly time: ArrayLike<number> | undefined;
  readonly signal: ArrayLike<number> | undefined;
  readonly x: ArrayLike<number> | undefined;
  readonly y: ArrayLike<number> | undefined;
}

const defaults: Given = {
  time: undefined,
  signal: undefined,
  x: undefined,
  y: undefined,
  timeUnit: undefined,
  signalUnit: undefined,
  unitProvenance: {},
  injectedAt: undefined,
  missing: 'refuse',
  duplicateTimes: 'refuse',
  backwardTimes: 'refuse',
  meta: {},
};

/**
 * Makes a trace: copies the samples, checks them once, and turns time into
 * minutes. Everything after this trusts the result, and the caller's arrays
 * stay the caller's.
 *
 * Nothing is repaired without being asked for: a value that is not a finite
 * number, a time not later than the one before it, or a unit that was not
 * stated is an error. Where an option says how to treat such samples, a warning
 * counts them and says where the first stands in the arrays given.
 *
 * An interval more than five times the usual one on both sides of it is
 * recorded in `gaps` (of the ten intervals before it, and of the ten after it,
 * more than half are shorter than a fifth of it), and so is the place of
 * samples left out by `missing: 'gap'`, unless they were the first or last.
 *
 * @param input - N at least 2 times and readings as any array of numbers, their
 *   units, and the rules; see {@link TraceInput}.
 *
 * @returns The trace, N samples or fewer where the rules left some out.
 *
 * @throws {@link PeakwrightError} `trace-invalid` when lengths differ, fewer
 *   than two samples are left, or a value is not a finite number.
 * @throws {@link PeakwrightError} `trace-time-not-increasing` when a time is not
 *   later than the one before it and no rule was chosen.
 * @throws {@link PeakwrightError} `unit-missing` or `unit-unknown` when a unit is
 *   not stated, or the unit of time is stated in a spelling that is not known.
 * @throws {@link PeakwrightError} `option-unknown` or `option-invalid` when an
 *   option has a name or a value that is not documented.
 *
 * @example
 * ```ts
 * const trace = createTrace({ time: [0, 30, 60], signal: [0.1, 0.4, 0.2], timeUnit: 's', signalUnit: 'mAU', injectedAt: 30 });
 * Array.from(trace.time); // => [-0.5, 0, 0.5]
 * ```
 *
 * @public
 */
export function createTrace(input: TraceInput): Trace {
  return buildTrace('createTrace', input);
}

/** {@link createTrace} under the name of the function the caller called. */
export function buildTrace(caller: string, input: TraceInput): Trace {
  const given = resolveOptions<Given>(caller, defaults, input);
  const { x, y, time: times = x, signal: readings = y, injectedAt } = given;
  if ((x ?? times) !== times || (y ?? readings) !== readings) {
    failOption(caller, 'x or y', 'absent where time or signal is given', x ?? y);
  }
  checkOneOf(caller, 'missing', given.missing, ['refuse', 'gap']);
  checkOneOf(caller, 'duplicateTimes', given.duplicateTimes, ['refuse', 'first', 'mean']);
  checkOneOf(caller, 'backwardTimes', given.backwardTimes, ['refuse', 'drop']);
  checkNumber(caller, 'injectedAt', injectedAt ?? 0);
  const meta = resolveMeta(caller, given.meta ?? {});
  const units = {
    time: statedTimeUnit(caller, given.timeUnit),
    signal: statedSignalUnit(caller, 'signalUnit', given.signalUnit),
  };
  const provenance = resolveOptions<Record<'time' | 'signal', UnitProvenance>>(
    caller,
    { time: 'declared', signal: 'declared' },
    given.unitProvenance,
    'unitProvenance.',
  );
  const warnings: Warning[] = [];
  for (const axis of ['time', 'signal'] as const) {
    checkOneOf(caller, `unitProvenance.${axis}`, provenance[axis], ['declared', 'inferred', 'assumed']);
    if (provenance[axis] !== 'assumed') continue;
    const message = `The unit of ${axis} was assumed to be ${units[axis]}; the source does not say.`;
    warnings.push({ code: `${axis}-unit-assumed`, message });
  }
  if (perBase[units.signal] === undefined) {
    const message = `The signal unit ${units.signal} is neither absorbance nor voltage; only a stated factor converts it.`;
    warnings.push({ code: 'signal-unit-not-known', message });
  }

  const scale = perMinute[units.time];
  const samples = treatSamples(caller, { time: times, signal: readings }, injectedAt ?? 0, scale, given);
  const { time, signal } = samples;
  if (injectedAt !== undefined && time.at(-1)! <= 0) {
    failOption(caller, 'injectedAt', `before the last sample, in ${units.time}`, injectedAt);
  }
  warnings.push(...samples.warnings);
  const gaps = gapsFrom(time, [...findGaps(time), ...samples.gapStarts]);
  if (gaps.length > 0) {
    const { from, to } = gaps[0]!;
    const message = `The record has gaps (${gaps.length}), the first from ${from} to ${to} min; nothing is known there.`;
    warnings.push({ code: 'record-gap', message, at: from });
  }
  return {
    time,
    signal,
    signalUnit: units.signal,
    gaps,
    meta: {
      timeUnit: { unit: units.time, provenance: provenance.time },
      signalUnit: { unit: units.signal, provenance: provenance.signal },
      ...(injectedAt === undefined
        ? { timeOrigin: 'start of record' }
        : { timeOrigin: 'injection', injectedAt: injectedAt / scale }),
      ...meta,
    },
    warnings,
  };
}
