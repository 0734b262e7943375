import { describe, fail, type Warning } from '../core/index.js';
import { copyNumbers, isUsable, type Columns } from './read-samples.js';

/** What to do with a sample at the time of the one before it. */
export type DuplicateTimes = 'refuse' | 'first' | 'mean';
/** What to do with a sample earlier than one before it. */
export type BackwardTimes = 'refuse' | 'drop';

/** How samples that do not make a trace as they are shall be treated. */
export interface Rules {
  /** Values that are not usable numbers. */
  readonly missing: 'refuse' | 'gap';
  /** Equal times. */
  readonly duplicateTimes: DuplicateTimes;
  /** Earlier times. */
  readonly backwardTimes: BackwardTimes;
}

/** Samples in order, and what was done to them. */
export interface Treated extends Columns<Float64Array> {
  /** [min] Times of samples after which others were left out because they were missing. */
  readonly gapStarts: readonly number[];
  /** One for each rule that was used, with the first place by its index in the caller's arrays. */
  readonly warnings: readonly Warning[];
}

const findings: Readonly<Record<keyof Rules, readonly [code: string, what: string]>> = {
  missing: ['samples-missing', 'without a usable time or reading'],
  duplicateTimes: ['duplicate-times-merged', 'at the time of the one before'],
  backwardTimes: ['backward-times-dropped', 'earlier than one before'],
};

const advice: Readonly<Record<keyof Rules, string>> = {
  missing: "Correct it; missing: 'gap' leaves NaN, null and infinities out.",
  duplicateTimes: 'Say with duplicateTimes which to keep.',
  backwardTimes: "Pass backwardTimes: 'drop', or reverse both arrays if all of the record runs backward.",
};

/**
 * Copies samples, turns their times into minutes from `origin`, leaves out what
 * is missing and brings the times into increasing order, as the rules say, or
 * refuses the record.
 */
export function treatSamples(
  caller: string,
  source: Columns<ArrayLike<number> | undefined>,
  origin: number,
  perMinute: number,
  rules: Rules,
): Treated {
  const { time, signal } = copyInMinutes(caller, source, origin, perMinute);
  const gapStarts: number[] = [];
  const treated = new Map<keyof Rules, { readonly count: number; readonly first: number; readonly at: number }>();
  let count = countInOrder(time, signal);
  let latest = count - 1;
  let before = time[latest] ?? -Infinity;
  let merged = 1;
  for (let i = count; i < time.length; i++) {
    const [t, y] = [time[i]!, signal[i]!];
    const usable = isUsable(t) && isUsable(y);
    if (usable && t > before) {
      time[count] = before = t;
      signal[count++] = y;
      latest = i;
      merged = 1;
      continue;
    }
    const rule = !usable ? 'missing' : t === before ? 'duplicateTimes' : 'backwardTimes';
    const field = usable || !isUsable(t) ? 'time' : 'signal';
    // NaN, an infinity, null, undefined and holes are missing; text is a mistake.
    if (rules[rule] === 'refuse' || typeof (source[field]![i] ?? 0) !== 'number') {
      refuse(caller, rule, field, source, i, latest);
    }
    const { count: known, ...place } = treated.get(rule) ?? { count: 0, first: i, at: before };
    treated.set(rule, { count: known + 1, ...place });
    if (rule === 'missing') gapStarts.push(before);
    if (rules[rule] === 'mean') signal[count - 1]! += (y - signal[count - 1]!) / ++merged;
  }
  if (count < 2) {
    const message = `a trace needs 2 samples with different times; ${count} of ${time.length} can be used.`;
    fail(caller, 'trace-invalid', message, { field: 'time', value: count, expected: 'at least 2 samples' });
  }
  const [kept, readings] = count < time.length ? [time.slice(0, count), signal.slice(0, count)] : [time, signal];
  const warnings = Array.from(treated, ([rule, place]) => {
    const [code, what] = findings[rule];
    const message = `${place.count} samples ${what}, the first at index ${place.first}, were treated as ${rule}: '${rules[rule]}' says.`;
    return rule === 'backwardTimes' ? { code, message, at: place.at } : { code, message };
  });
  return { time: kept, signal: readings, gapStarts, warnings };
}

function copyInMinutes(
  caller: string,
  source: Columns<ArrayLike<number> | undefined>,
  origin: number,
  perMinute: number,
): Columns<Float64Array> {
  const time = copyNumbers(caller, 'time', source.time);
  const signal = copyNumbers(caller, 'signal', source.signal);
  if (signal.length !== time.length) {
    const expected = `${time.length} values`;
    const message = `signal has ${signal.length} values, time ${time.length}; each sample needs both.`;
    fail(caller, 'trace-invalid', message, { field: 'signal', value: signal.length, expected });
  }
  // The origin is taken off in the unit of the source, so that a clock far from zero loses no digits.
  if (origin !== 0 || perMinute !== 1) for (let i = 0; i < time.length; i++) time[i] = (time[i]! - origin) / perMinute;
  return { time, signal };
}

function refuse(
  caller: string,
  rule: keyof Rules,
  field: 'time' | 'signal',
  source: Columns<ArrayLike<number> | undefined>,
  index: number,
  latest: number,
): never {
  const value: unknown = source[field]![index];
  const isMissing = rule === 'missing';
  const expected = isMissing ? 'a finite number up to 1e100' : `later than time[${latest}] = ${source.time![latest]!}`;
  const message = `${field}[${index}] is ${describe(value)}, not ${expected}. ${advice[rule]}`;
  fail(caller, isMissing ? 'trace-invalid' : 'trace-time-not-increasing', message, { index, field, value, expected });
}

/** How many samples from the first on are usable and in order: all, as a rule, so this loop is kept short. */
function countInOrder(time: Float64Array, signal: Float64Array): number {
  let before = -Infinity;
  for (let i = 0; i < time.length; i++) {
    const t = time[i]!;
    if (!(t > before && isUsable(t) && isUsable(signal[i]!))) return i;
    before = t;
  }
  return time.length;
}
