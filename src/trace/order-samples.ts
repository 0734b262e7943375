import { PeakwrightError, type Warning } from '../core/index.js';
import { summarise, type RawSamples } from './read-samples.js';

/** What to do with a sample at the time of the one before it. */
export type DuplicateTimes = 'refuse' | 'first' | 'mean';
/** What to do with a sample earlier than one before it. */
export type BackwardTimes = 'refuse' | 'drop' | 'sort';

/** How samples out of order are treated. */
export interface OrderRules {
  /** Equal times. */
  readonly duplicateTimes: DuplicateTimes;
  /** Earlier times. */
  readonly backwardTimes: BackwardTimes;
}

/**
 * Makes the times strictly increasing under the rules, or refuses the record.
 *
 * @param raw - The samples; order is judged on their times in minutes.
 * @param source - [unit of the source] The caller's times, for messages.
 * @param rules - What to do with equal and with earlier times.
 */
export function orderSamples(
  caller: string,
  raw: RawSamples,
  source: ArrayLike<number>,
  rules: OrderRules,
): RawSamples {
  const minutes = raw.time;
  const wrong = firstNotLater(minutes);
  if (wrong === undefined) return raw;
  if (rules.backwardTimes === 'refuse') {
    const refused = rules.duplicateTimes === 'refuse' ? wrong : firstNotLater(minutes, 'backward');
    if (refused !== undefined) failOrder(caller, raw, source, refused);
  }
  const warnings: Warning[] = [...raw.warnings];
  const indices = rules.backwardTimes === 'sort' ? sorted(raw, warnings) : withoutBackward(raw, warnings);
  return merged(caller, raw, source, indices, rules.duplicateTimes, warnings);
}

/** The first sample not later than (or, on request, earlier than) the one before it. */
function firstNotLater(time: Float64Array, kind?: 'backward'): number | undefined {
  for (let i = 1; i < time.length; i++) {
    if (time[i]! > time[i - 1]!) continue;
    if (kind === undefined || time[i]! < time[i - 1]!) return i;
  }
  return undefined;
}

function failOrder(caller: string, raw: RawSamples, source: ArrayLike<number>, i: number, before = i - 1): never {
  const minutes = raw.time;
  const [index, previous] = [sourceIndex(raw, i), sourceIndex(raw, before)];
  const equal = minutes[i] === minutes[before];
  const found = `time[${index}] = ${source[index]!} is ${equal ? 'not later' : 'earlier'} than time[${previous}] = ${source[previous]!}`;
  const advice = equal
    ? "pass duplicateTimes: 'first' or 'mean' to keep one sample for each time"
    : isDescending(minutes)
      ? 'the whole record runs backward: reverse both arrays'
      : "pass backwardTimes: 'drop' or 'sort', or make one trace for each piece when the clock started again";
  throw new PeakwrightError('trace-time-not-increasing', `${caller}: ${found}. Times must increase; ${advice}.`, {
    index,
    field: 'time',
    value: source[index]!,
    expected: `later than ${source[previous]!}`,
  });
}

function isDescending(time: Float64Array): boolean {
  for (let i = 1; i < time.length; i++) if (time[i]! >= time[i - 1]!) return false;
  return true;
}

function sourceIndex(raw: RawSamples, i: number): number {
  return raw.index?.[i] ?? i;
}

/** Positions in order of time; equal times keep their order. */
function sorted(raw: RawSamples, warnings: Warning[]): Int32Array {
  const minutes = raw.time;
  const messages: string[] = [];
  const at: number[] = [];
  for (let i = 1; i < minutes.length; i++) {
    if (minutes[i]! >= minutes[i - 1]!) continue;
    messages.push(`Time went back at sample ${sourceIndex(raw, i)}; the samples were put in order of time.`);
    at.push(minutes[i]!);
  }
  warnings.push(...summarise('times-sorted', messages, at));
  return Int32Array.from(minutes, (_, i) => i).sort((a, b) => minutes[a]! - minutes[b]! || a - b);
}

/** Positions that are not earlier than any before them. */
function withoutBackward(raw: RawSamples, warnings: Warning[]): Int32Array {
  const minutes = raw.time;
  const kept = new Int32Array(minutes.length);
  const messages: string[] = [];
  const at: number[] = [];
  let count = 0;
  let latest = -Infinity;
  for (let i = 0; i < minutes.length; i++) {
    if (minutes[i]! >= latest) {
      latest = minutes[i]!;
      kept[count++] = i;
      continue;
    }
    let last = i;
    while (last + 1 < minutes.length && minutes[last + 1]! < latest) last++;
    const which =
      last === i
        ? `Sample ${sourceIndex(raw, i)} is`
        : `Samples ${sourceIndex(raw, i)} to ${sourceIndex(raw, last)} are`;
    messages.push(`${which} earlier than the sample before; ${last - i + 1} dropped.`);
    at.push(latest);
    i = last;
  }
  warnings.push(...summarise('backward-times-dropped', messages, at));
  return kept.subarray(0, count);
}

/** Takes one sample for each time, in the order given, under the rule for equal times. */
function merged(
  caller: string,
  raw: RawSamples,
  source: ArrayLike<number>,
  order: Int32Array,
  rule: DuplicateTimes,
  warnings: Warning[],
): RawSamples {
  const minutes = raw.time;
  const time = new Float64Array(order.length);
  const signal = new Float64Array(order.length);
  const index = new Int32Array(order.length);
  const lostAfter = new Uint8Array(order.length);
  const messages: string[] = [];
  const at: number[] = [];
  let count = 0;
  for (let k = 0; k < order.length;) {
    const i = order[k]!;
    let end = k + 1;
    let sum = raw.signal[i]!;
    for (; end < order.length && minutes[order[end]!] === minutes[i]; end++) sum += raw.signal[order[end]!]!;
    if (end - k > 1) {
      if (rule === 'refuse') failOrder(caller, raw, source, order[k + 1]!, i);
      messages.push(
        `${end - k} samples from index ${sourceIndex(raw, i)} on have the same time; ${rule === 'first' ? 'the first was kept' : 'they became one, their mean'}.`,
      );
      at.push(minutes[i]!);
    }
    time[count] = minutes[i]!;
    signal[count] = rule === 'mean' ? sum / (end - k) : raw.signal[i]!;
    index[count] = sourceIndex(raw, i);
    for (let j = k; j < end; j++) if (raw.lostAfter?.[order[j]!] === 1) lostAfter[count] = 1;
    count++;
    k = end;
  }
  warnings.push(...summarise('duplicate-times-merged', messages, at));
  if (count < 2) {
    throw new PeakwrightError(
      'trace-invalid',
      `${caller}: only ${count} different time is left; a trace needs at least 2.`,
      {
        field: 'time',
        value: count,
        expected: 'at least 2 different times',
      },
    );
  }
  return {
    time: time.slice(0, count),
    signal: signal.slice(0, count),
    index: index.slice(0, count),
    lostAfter: lostAfter.slice(0, count),
    warnings,
  };
}
