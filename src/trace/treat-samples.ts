import { defined, describe, fail, type Warning } from '../core/index.js';
import { isUsable, type Columns } from './read-samples.js';

/** What to do with a sample at the time of the one before it. */
export type DuplicateTimes = 'refuse' | 'first' | 'mean';
/** What to do with a sample earlier than one before it. */
export type BackwardTimes = 'refuse' | 'drop' | 'sort';

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
  /** Each place that was treated, by its index in the caller's arrays. */
  readonly warnings: readonly Warning[];
}

/** Samples that were treated alike: `count` of them from index `first` on. */
interface Place {
  readonly first: number;
  count: number;
  /** [min] Where. */
  readonly at?: number;
}

/**
 * Leaves out what is missing, brings the times into increasing order and makes
 * one sample of those at one time, each as the rules say, or refuses the record.
 *
 * @param source - The caller's arrays, for messages.
 * @param samples - The same in minutes; read, never changed.
 */
export function treatSamples(
  caller: string,
  source: Columns<ArrayLike<number>>,
  { time, signal }: Columns<Float64Array>,
  rules: Rules,
): Treated {
  const missing: Place[] = [];
  const backward: Place[] = [];
  const equal: Place[] = [];
  const gapStarts: number[] = [];
  const kept = new Int32Array(time.length);
  let count = 0;
  let latest = -1;
  let before = -Infinity;
  for (let i = 0; i < time.length; i++) {
    const t = time[i]!;
    const wrong = !isUsable(t) ? 'time' : !isUsable(signal[i]!) ? 'signal' : undefined;
    if (wrong !== undefined) {
      if (rules.missing === 'refuse' || typeof (source[wrong][i] ?? 0) !== 'number') {
        failValue(caller, wrong, i, source[wrong][i]);
      }
      note(missing, i);
      gapStarts.push(before);
    } else if (t >= before) {
      kept[count++] = i;
      latest = i;
      before = t;
    } else {
      if (rules.backwardTimes === 'refuse') failOrder(caller, source.time, i, latest);
      note(backward, i, before);
      if (rules.backwardTimes === 'sort') kept[count++] = i;
    }
  }

  const sorted = rules.backwardTimes === 'sort';
  const order = kept.subarray(0, count);
  if (sorted) order.sort((a, b) => time[a]! - time[b]!);
  const samples = oneForEachTime(caller, source.time, { time, signal }, order, rules.duplicateTimes, equal);
  const merged = rules.duplicateTimes === 'first' ? 'the first was kept' : 'their mean was taken';
  return {
    ...samples,
    gapStarts,
    warnings: [
      ...tell('samples-missing', 'no usable time or reading; left out', missing),
      ...tell(
        sorted ? 'times-sorted' : 'backward-times-dropped',
        `earlier than one before; ${sorted ? 'put in order of time' : 'dropped'}`,
        backward,
      ),
      ...tell('duplicate-times-merged', `at one time; ${merged}`, equal),
    ],
  };
}

/** The samples at `indices`, which are in order of time, under the rule for equal times; tells in `equal` where it was used. */
function oneForEachTime(
  caller: string,
  source: ArrayLike<number>,
  { time, signal }: Columns<Float64Array>,
  indices: Int32Array,
  rule: DuplicateTimes,
  equal: Place[],
): Columns<Float64Array> {
  const times = new Float64Array(indices.length);
  const signals = new Float64Array(indices.length);
  let count = 0;
  for (let k = 0; k < indices.length; count++) {
    const first = indices[k]!;
    const from = k;
    let sum = 0;
    for (; k < indices.length && time[indices[k]!] === time[first]; k++) sum += signal[indices[k]!]!;
    if (k - from > 1) {
      if (rule === 'refuse') failOrder(caller, source, indices[from + 1]!, first);
      equal.push({ first, count: k - from, at: time[first]! });
    }
    times[count] = time[first]!;
    signals[count] = rule === 'mean' ? sum / (k - from) : signal[first]!;
  }
  return { time: times.slice(0, count), signal: signals.slice(0, count) };
}

/** Under `missing: 'gap'` a missing value is NaN, an infinity, null, undefined or a hole; text is still a mistake. */
function failValue(caller: string, field: string, index: number, value: unknown): never {
  fail(
    caller,
    'trace-invalid',
    `${field}[${index}] is ${describe(value)}, not a finite number up to 1e100. Correct it; missing: 'gap' leaves samples with NaN, null or an infinity out and records a gap.`,
    { index, field, value },
  );
}

function failOrder(caller: string, time: ArrayLike<number>, index: number, before: number): never {
  const [value, earlier] = [time[index]!, time[before]!];
  fail(
    caller,
    'trace-time-not-increasing',
    `time[${index}] = ${value} is not later than time[${before}] = ${earlier}. Say with duplicateTimes or backwardTimes what to do with such samples, or reverse both arrays if all of the record runs backward.`,
    { index, field: 'time', value, expected: `later than ${earlier}` },
  );
}

/** Adds a sample to the last place when it is the next one, or opens a new place. */
function note(places: Place[], i: number, at?: number): void {
  const last = places.at(-1);
  if (last !== undefined && last.first + last.count === i) last.count++;
  else places.push(defined({ first: i, count: 1, at }));
}

/** [-] So many places are told one by one; the rest are counted. */
const toldOneByOne = 100;

function tell(code: string, what: string, places: readonly Place[]): Warning[] {
  const warnings: Warning[] = places.slice(0, toldOneByOne).map(({ first, count, at }) => {
    const which = count === 1 ? `Sample ${first}` : `${count} samples from index ${first} on`;
    return defined({ code, message: `${which}: ${what}.`, at });
  });
  const rest = places.length - toldOneByOne;
  if (rest > 0) warnings.push({ code, message: `${rest} more places: ${what}.` });
  return warnings;
}
