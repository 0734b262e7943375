import { describe, PeakwrightError, type Warning } from '../core/index.js';

/** Samples copied from the caller, before their order is looked at. */
export interface RawSamples {
  /** [min] Times, from the origin. */
  readonly time: Float64Array;
  /** [signal unit] Readings. */
  readonly signal: Float64Array;
  /** [-] Index of each sample in the caller's arrays; absent when none was left out. */
  readonly index?: Int32Array;
  /** [-] 1 for a sample after which others were left out because they were missing; absent when none was. */
  readonly lostAfter?: Uint8Array;
  /** Doubts found on the way; the place of each is still an index of the caller. */
  readonly warnings: readonly Warning[];
}

/** How a time of the source becomes minutes: `(t - origin) * times / over`. */
export interface Clock {
  /** [unit of the source] The time that becomes 0. */
  readonly origin: number;
  /** [-] Factor. */
  readonly times: number;
  /** [-] Divisor. */
  readonly over: number;
}

/**
 * Copies time, as minutes, and signal, and refuses what is not a finite number, or, when
 * `missing` is `'gap'`, leaves those samples out and says which.
 */
export function readSamples(
  caller: string,
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  clock: Clock,
  missing: 'refuse' | 'gap',
): RawSamples {
  const n = checkLengths(caller, time, signal);
  if (areUsable(time) && areUsable(signal)) {
    return { time: inMinutes(new Float64Array(time), clock), signal: new Float64Array(signal), warnings: [] };
  }
  return readOneByOne(caller, time, signal, clock, missing, n);
}

/** Beyond this in size no reading is real, and sums of squares would run out of the range of numbers. */
const largest = 1e100;

/** False for NaN, infinities, null, text and holes too, without converting them. */
function isUsable(value: number | undefined): boolean {
  return Number.isFinite(value) && Math.abs(value!) <= largest;
}

function areUsable(values: ArrayLike<number>): boolean {
  if (values instanceof Float64Array) {
    // The engine keeps this loop to one comparison when it sees one kind of array only; NaN fails it too.
    for (let i = 0; i < values.length; i++) if (!(Math.abs(values[i]!) <= largest)) return false;
    return true;
  }
  for (let i = 0; i < values.length; i++) if (!isUsable(values[i])) return false;
  return true;
}

/** The origin is taken off in the source's unit, so that a clock far from zero loses no digits. */
function inMinutes(time: Float64Array, { origin, times, over }: Clock): Float64Array {
  if (origin === 0 && times === over) return time;
  for (let i = 0; i < time.length; i++) time[i] = ((time[i]! - origin) * times) / over;
  return time;
}

/** For a record in which something is not a finite number: finds what, and refuses it or leaves it out. */
function readOneByOne(
  caller: string,
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  clock: Clock,
  missing: 'refuse' | 'gap',
  n: number,
): RawSamples {
  const times = new Float64Array(n);
  const signals = new Float64Array(n);
  const index = new Int32Array(n);
  const lostAfter = new Uint8Array(n);
  let kept = 0;
  const lost: number[] = [];
  for (let i = 0; i < n; i++) {
    const t = time[i];
    const y = signal[i];
    if (!isUsable(t) || !isUsable(y)) {
      if (missing === 'refuse') failSample(caller, i, t, y);
      failUnlessMissing(caller, i, 'time', t);
      failUnlessMissing(caller, i, 'signal', y);
      if (kept > 0) lostAfter[kept - 1] = 1;
      lost.push(i);
      continue;
    }
    times[kept] = t!;
    signals[kept] = y!;
    index[kept] = i;
    kept++;
  }
  if (kept < 2) failTooFew(caller, kept, n);
  return {
    time: inMinutes(times.slice(0, kept), clock),
    signal: signals.slice(0, kept),
    index: index.slice(0, kept),
    lostAfter: lostAfter.slice(0, kept),
    warnings: describeLost(lost),
  };
}

function checkLengths(caller: string, time: ArrayLike<number>, signal: ArrayLike<number>): number {
  for (const [field, values] of [
    ['time', time],
    ['signal', signal],
  ] as const) {
    if (typeof values !== 'object' || values === null || !Number.isInteger(values.length)) {
      throw new PeakwrightError(
        'trace-invalid',
        `${caller}: ${field} must be an array of numbers; received ${describe(values)}.`,
        { field, value: values, expected: 'an array of numbers' },
      );
    }
  }
  if (time.length !== signal.length) {
    throw new PeakwrightError(
      'trace-invalid',
      `${caller}: time has ${time.length} values and signal ${signal.length}; each sample needs one of both.`,
      { field: 'signal', value: signal.length, expected: `${time.length} values` },
    );
  }
  if (time.length < 2) failTooFew(caller, time.length, time.length);
  return time.length;
}

function failTooFew(caller: string, kept: number, given: number): never {
  throw new PeakwrightError(
    'trace-invalid',
    `${caller}: a trace needs at least 2 samples with a time and a reading; received ${kept}${kept === given ? '' : ` among ${given}`}.`,
    { field: 'time', value: kept, expected: 'at least 2 samples' },
  );
}

function failSample(caller: string, i: number, t: unknown, y: unknown): never {
  const field = isUsable(t as number) ? 'signal' : 'time';
  const value = field === 'time' ? t : y;
  const fault = Number.isFinite(value) ? 'larger than any reading' : 'not a finite number';
  const place = field === 'time' ? '' : ` (time ${String(t)})`;
  throw new PeakwrightError(
    'trace-invalid',
    `${caller}: ${field}[${i}]${place} is ${describe(value)}, ${fault}. Correct it, or pass missing: 'gap' to leave such samples out and record a gap.`,
    { index: i, field, value, expected: 'a finite number' },
  );
}

/** Under `missing: 'gap'` a missing value is NaN, an infinity, null, undefined or a hole; text is still a mistake. */
function failUnlessMissing(caller: string, i: number, field: string, value: unknown): void {
  if (value === null || value === undefined || typeof value === 'number') return;
  throw new PeakwrightError(
    'trace-invalid',
    `${caller}: ${field}[${i}] is ${describe(value)}, neither a number nor a missing value (NaN, null or undefined).`,
    { index: i, field, value, expected: 'a number or a missing value' },
  );
}

/** One warning for each run of neighbouring samples left out. */
function describeLost(lost: readonly number[]): Warning[] {
  const runs: [first: number, last: number][] = [];
  for (const i of lost) {
    const run = runs.at(-1);
    if (run?.[1] === i - 1) run[1] = i;
    else runs.push([i, i]);
  }
  return summarise(
    'samples-missing',
    runs.map(([first, last]) =>
      first === last
        ? `Sample ${first} has no usable time or reading; it was left out.`
        : `Samples ${first} to ${last} have no usable time or reading; they were left out.`,
    ),
  );
}

/** [-] So many places are told one by one; the rest are counted. */
const toldOneByOne = 100;

/** Warnings for a list of places, the hundred first one by one and the others as a number. */
export function summarise(code: string, messages: readonly string[], at?: readonly number[]): Warning[] {
  const warnings: Warning[] = messages
    .slice(0, toldOneByOne)
    .map((message, k) => ({ code, message, ...(at === undefined ? {} : { at: at[k]! }) }));
  const rest = messages.length - toldOneByOne;
  if (rest > 0) {
    warnings.push({ code, message: `The same was done at ${rest} more places; the last: ${messages.at(-1)!}` });
  }
  return warnings;
}
