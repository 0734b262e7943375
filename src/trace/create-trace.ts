import { checkNumber, checkOneOf, describe, fail, failOption, resolveOptions, type Warning } from '../core/index.js';
import { findGaps, gapsFrom } from './gaps.js';
import { areUsable, copyNumbers, intervalRange, isUsable, type Columns } from './read-samples.js';
import { resolveMeta, type GivenMeta } from './resolve-meta.js';
import { statedTimeUnit, statedUnit } from './resolve-units.js';
import type { Trace, UnitProvenance } from './trace.js';
import { treatSamples, type BackwardTimes, type DuplicateTimes, type Rules, type Treated } from './treat-samples.js';
import { minutesPer, parseSignalUnit, perBase } from './units.js';

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
   * What to do with samples earlier than one before them: refuse the record,
   * drop them, or put all samples in order of time.
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

const rules: Readonly<Record<keyof Rules, readonly string[]>> = {
  missing: ['refuse', 'gap'],
  duplicateTimes: ['refuse', 'first', 'mean'],
  backwardTimes: ['refuse', 'drop', 'sort'],
};

const declared: { readonly time: UnitProvenance; readonly signal: UnitProvenance } = {
  time: 'declared',
  signal: 'declared',
};

/**
 * Makes a trace: copies the samples, checks them once, and turns time into
 * minutes. Everything after this trusts the result, and the caller's arrays
 * stay the caller's.
 *
 * Nothing is repaired without being asked for: a value that is not a finite
 * number, a time not later than the one before it, or a unit that was not
 * stated is an error. Where an option says how to treat such places, each
 * treated place gives a warning with its index in the arrays given.
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
  for (const [rule, words] of Object.entries(rules)) checkOneOf(caller, rule, given[rule as keyof Rules], words);
  const timeUnit = statedTimeUnit(caller, 'timeUnit', given.timeUnit);
  const stated = statedUnit(caller, 'signalUnit', given.signalUnit, "'AU', 'mAU', 'V' or another unit");
  const signalUnit = parseSignalUnit(stated) ?? stated;
  const provenance = resolveOptions(caller, declared, given.unitProvenance, 'unitProvenance.');
  const warnings: Warning[] = [];
  for (const [axis, unit] of [
    ['time', timeUnit],
    ['signal', signalUnit],
  ] as const) {
    checkOneOf(caller, `unitProvenance.${axis}`, provenance[axis], ['declared', 'inferred', 'assumed']);
    if (provenance[axis] === 'assumed') {
      const message = `The unit of ${axis} was assumed to be ${unit}; the source does not say.`;
      warnings.push({ code: `${axis}-unit-assumed`, message });
    }
  }
  if (perBase[signalUnit] === undefined) {
    const message = `The signal unit ${describe(stated)} is neither absorbance nor voltage; it is kept as stated and converted only by a stated factor.`;
    warnings.push({ code: 'signal-unit-not-known', message });
  }
  const { injectedAt } = given;
  checkNumber(caller, 'injectedAt', injectedAt ?? 0);
  const meta = resolveMeta(caller, given.meta ?? {});

  const source = { time: eitherOf(caller, given, 'time', 'x'), signal: eitherOf(caller, given, 'signal', 'y') };
  const scale = minutesPer[timeUnit];
  const samples = readSamples(caller, source, injectedAt ?? 0, scale, given);
  const { time, signal } = samples;
  if (injectedAt !== undefined && time.at(-1)! <= 0) {
    failOption(caller, 'injectedAt', `before the last sample, in ${timeUnit}`, injectedAt);
  }
  warnings.push(...samples.warnings);
  const gaps = gapsFrom(time, samples.gapStarts);
  if (gaps.length > 0) {
    const { from, to } = gaps[0]!;
    const message = `The record has gaps (${gaps.length}), the first from ${from} to ${to} min; nothing is known there.`;
    warnings.push({ code: 'record-gap', message, at: from });
  }
  return {
    time,
    signal,
    signalUnit,
    gaps,
    meta: {
      timeUnit: { unit: timeUnit, provenance: provenance.time },
      signalUnit: { unit: signalUnit, provenance: provenance.signal },
      ...(injectedAt === undefined
        ? { timeOrigin: 'start of record' }
        : { timeOrigin: 'injection', injectedAt: inMinutes(injectedAt, scale) }),
      ...meta,
    },
    warnings,
  };
}

/** A span of the source in minutes. */
export function inMinutes(span: number, [times, over]: readonly [number, number]): number {
  return (span * times) / over;
}

/** The array given under one of its two names. */
function eitherOf(caller: string, given: Given, name: 'time' | 'signal', short: 'x' | 'y'): ArrayLike<number> {
  if (given[name] !== undefined && given[short] !== undefined) {
    failOption(caller, short, `absent, as ${name} is given`, given[short]);
  }
  return given[name] ?? given[short]!;
}

/** Samples in minutes, in order; only a record that is not so already goes through the rules. */
function readSamples(
  caller: string,
  source: Columns<ArrayLike<number>>,
  origin: number,
  [times, over]: readonly [number, number],
  rules: Rules,
): Treated {
  const time = copyNumbers(caller, 'time', source.time);
  const signal = copyNumbers(caller, 'signal', source.signal);
  const count = time.length;
  if (signal.length !== count) {
    fail(caller, 'trace-invalid', `time has ${count} values and signal ${signal.length}; each sample needs both.`, {
      field: 'signal',
      value: signal.length,
      expected: `${count} values`,
    });
  }
  // The origin is taken off in the unit of the source, so that a clock far from zero loses no digits.
  if (origin !== 0 || times !== over) for (let i = 0; i < count; i++) time[i] = ((time[i]! - origin) * times) / over;
  const range = intervalRange(time);
  if (count > 1 && range[0] > 0 && isUsable(time[0]!) && isUsable(time.at(-1)!) && areUsable(signal)) {
    return { time, signal, gapStarts: findGaps(time, range), warnings: [] };
  }
  const treated = treatSamples(caller, source, { time, signal }, rules);
  const left = treated.time.length;
  if (left < 2) {
    fail(caller, 'trace-invalid', `a trace needs 2 samples with different times; ${left} of ${count} can be used.`, {
      field: 'time',
      value: left,
      expected: 'at least 2 samples',
    });
  }
  return { ...treated, gapStarts: [...findGaps(treated.time), ...treated.gapStarts] };
}
