import { failOption, PeakwrightError, resolveOptions, type Warning } from '../core/index.js';
import { findGaps, gapsAfter } from './gaps.js';
import { orderSamples, type BackwardTimes, type DuplicateTimes } from './order-samples.js';
import { readSamples } from './read-samples.js';
import { resolveMeta, type GivenMeta } from './resolve-meta.js';
import { resolveSignalUnit, resolveTimeUnit } from './resolve-units.js';
import type { Gap, Trace, UnitProvenance } from './trace.js';
import { minutesPer, type TimeUnit } from './units.js';

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

interface Given extends Required<Omit<TraceDescription, 'missing' | 'duplicateTimes' | 'backwardTimes'>> {
  readonly time: ArrayLike<number> | undefined;
  readonly signal: ArrayLike<number> | undefined;
  readonly x: ArrayLike<number> | undefined;
  readonly y: ArrayLike<number> | undefined;
  readonly missing: 'refuse' | 'gap';
  readonly duplicateTimes: DuplicateTimes;
  readonly backwardTimes: BackwardTimes;
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
  meta: undefined,
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
  const { missing, duplicateTimes, backwardTimes } = given;
  failUnlessOneOf(caller, 'missing', missing, ['refuse', 'gap']);
  failUnlessOneOf(caller, 'duplicateTimes', duplicateTimes, ['refuse', 'first', 'mean']);
  failUnlessOneOf(caller, 'backwardTimes', backwardTimes, ['refuse', 'drop', 'sort']);
  const provenance = resolveProvenance(caller, given.unitProvenance);
  const timeUnit = resolveTimeUnit(caller, given.timeUnit, provenance.time);
  const signalUnit = resolveSignalUnit(caller, given.signalUnit, provenance.signal);
  const { injectedAt } = given;
  if (injectedAt !== undefined && !Number.isFinite(injectedAt)) {
    failOption(caller, 'injectedAt', `a finite time in ${timeUnit.unit}`, injectedAt);
  }
  const meta = resolveMeta(caller, given.meta);

  const clock = { origin: injectedAt ?? 0, ...minutesPer[timeUnit.unit] };
  const sourceTime = oneOf(caller, given, 'time', 'x');
  const raw = readSamples(caller, sourceTime, oneOf(caller, given, 'signal', 'y'), clock, missing);
  const samples = orderSamples(caller, raw, sourceTime, { duplicateTimes, backwardTimes });
  const { time, signal } = samples;
  if (injectedAt !== undefined && time.at(-1)! <= 0) {
    failOption(caller, 'injectedAt', `a time in ${timeUnit.unit} before the last sample of the record`, injectedAt);
  }
  const gaps = gapsOf(time, samples.lostAfter);
  return {
    time,
    signal,
    signalUnit: signalUnit.name,
    gaps,
    meta: {
      timeUnit: { unit: timeUnit.unit, provenance: provenance.time },
      signalUnit: { unit: signalUnit.name, provenance: provenance.signal },
      ...(injectedAt === undefined
        ? { timeOrigin: 'start of record' as const }
        : { timeOrigin: 'injection' as const, injectedAt: asMinutes(injectedAt, timeUnit.unit) }),
      ...meta,
    },
    warnings: [...timeUnit.warnings, ...signalUnit.warnings, ...samples.warnings, ...warnOfGaps(gaps)],
  };
}

function failUnlessOneOf(caller: string, field: string, value: unknown, known: readonly string[]): void {
  if (!known.some((word) => word === value))
    failOption(caller, field, known.map((word) => `'${word}'`).join(' or '), value);
}

function resolveProvenance(
  caller: string,
  given: TraceDescription['unitProvenance'],
): { time: UnitProvenance; signal: UnitProvenance } {
  const known = resolveOptions<{ time: UnitProvenance; signal: UnitProvenance }>(
    `${caller}: unitProvenance`,
    { time: 'declared', signal: 'declared' },
    given ?? {},
  );
  failUnlessOneOf(caller, 'unitProvenance.time', known.time, ['declared', 'inferred', 'assumed']);
  failUnlessOneOf(caller, 'unitProvenance.signal', known.signal, ['declared', 'inferred', 'assumed']);
  return known;
}

/** The array given under one of its two names. */
function oneOf(caller: string, given: Given, name: 'time' | 'signal', short: 'x' | 'y'): ArrayLike<number> {
  const [long, alias] = [given[name], given[short]];
  if (long !== undefined && alias !== undefined) {
    throw new PeakwrightError(
      'option-invalid',
      `${caller}: ${name} and ${short} are two names of one array; pass one.`,
      {
        field: short,
      },
    );
  }
  const values = long ?? alias;
  if (values === undefined) {
    throw new PeakwrightError(
      'trace-invalid',
      `${caller}: there is no ${name}; pass an array of numbers as ${name} (or ${short}).`,
      {
        field: name,
        expected: 'an array of numbers',
      },
    );
  }
  return values;
}

function asMinutes(time: number, unit: TimeUnit): number {
  return (time * minutesPer[unit].times) / minutesPer[unit].over;
}

function gapsOf(time: Float64Array, lostAfter: Uint8Array | undefined): Gap[] {
  const places = findGaps(time);
  if (lostAfter !== undefined) for (let i = 0; i < time.length - 1; i++) if (lostAfter[i] === 1) places.push(i);
  return gapsAfter(time, places);
}

function warnOfGaps(gaps: readonly Gap[]): Warning[] {
  const first = gaps[0];
  if (first === undefined) return [];
  const message = `The record has ${gaps.length === 1 ? 'a gap' : `${gaps.length} gaps, the first`} from ${first.from} to ${first.to} min; nothing is known there.`;
  return [{ code: 'record-gap', message, at: first.from }];
}
