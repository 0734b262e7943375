import { createFit } from './local-polynomial.js';

/**
 * Straight pieces between points, level before the first and after the last.
 * A single point is a constant.
 */
export interface Polyline {
  /** K positions, strictly increasing, K at least 1. */
  readonly time: ArrayLike<number>;
  /** K values. */
  readonly value: ArrayLike<number>;
}

/**
 * A stretch of samples lifted off a polyline, ready to be measured: the first
 * `length` entries of `time` and `value` count. One is reused over many
 * stretches; its arrays only grow.
 */
export interface Stretch {
  /** Positions, strictly increasing. */
  time: Float64Array;
  /** Sign times (sample minus polyline). */
  value: Float64Array;
  /** Number of entries in use. */
  length: number;
  /** Samples averaged into each inner entry; 1 when none were. */
  block: number;
  /** Room for local fits along it. */
  readonly fit: Float64Array;
}

/** An empty stretch. */
export function createStretch(): Stretch {
  return { time: new Float64Array(256), value: new Float64Array(256), length: 0, block: 1, fit: createFit() };
}

/** First of the first `length` entries that is not below `x`; `length` when there is none. */
export function firstAtOrAfter(sorted: ArrayLike<number>, x: number, length: number = sorted.length): number {
  let low = 0;
  let high = length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle]! < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Value of a polyline at `x`. */
export function polylineAt(line: Polyline, x: number): number {
  const { time, value } = line;
  const after = firstAtOrAfter(time, x);
  if (after === 0) return value[0]!;
  if (after === time.length) return value[time.length - 1]!;
  const from = time[after - 1]!;
  const part = (x - from) / (time[after]! - from);
  return value[after - 1]! + part * (value[after]! - value[after - 1]!);
}

/**
 * Fills a stretch with the samples from `from` to `to`, less a polyline and
 * times `sign`. An end that falls between two samples gets an entry of its own
 * on the straight line between them; ends outside the record are moved to it.
 * More than `limit` samples are averaged in equal blocks, which keeps sums and
 * slopes and costs a Gaussian of p blocks per standard deviation 1/(24 p²) of
 * its height.
 *
 * @param time - N positions, strictly increasing.
 * @param signal - N samples.
 * @param base - What to subtract; nothing when absent.
 */
export function fillStretch(
  stretch: Stretch,
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  base: Polyline | undefined,
  from: number,
  to: number,
  sign: 1 | -1,
  limit = 1024,
): void {
  stretch.length = 0;
  stretch.block = 1;
  const n = time.length;
  if (n === 0) return;
  const begin = Math.max(from, time[0]!);
  const end = Math.min(to, time[n - 1]!);
  if (!(end > begin)) return;
  const first = firstAtOrAfter(time, begin);
  let last = firstAtOrAfter(time, end);
  if (time[last]! > end) last--;
  const count = last - first + 1;
  const block = count > limit ? Math.ceil(count / limit) : 1;
  const room = Math.ceil(count / block) + 2;
  if (stretch.time.length < room) {
    stretch.time = new Float64Array(room * 2);
    stretch.value = new Float64Array(room * 2);
  }
  const t = stretch.time;
  const y = stretch.value;
  let k = 0;
  if (count === 0 || block > 1 || time[first]! > begin) {
    t[k] = begin;
    y[k++] = between(time, signal, begin);
  }
  k = block === 1 ? copy(stretch, time, signal, first, last, k) : average(stretch, time, signal, first, last, k, block);
  if (t[k - 1]! < end) {
    t[k] = end;
    y[k++] = between(time, signal, end);
  }
  stretch.length = k;
  stretch.block = block;
  liftOff(stretch, base, sign);
}

/** Copies samples to entries from `k` on; returns the entry after the last. */
function copy(
  stretch: Stretch,
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  first: number,
  last: number,
  k: number,
): number {
  const t = stretch.time;
  const y = stretch.value;
  for (let i = first; i <= last; i++, k++) {
    t[k] = time[i]!;
    y[k] = signal[i]!;
  }
  return k;
}

/** Averages blocks of samples into entries from `k` on; returns the entry after the last. */
function average(
  stretch: Stretch,
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  first: number,
  last: number,
  k: number,
  block: number,
): number {
  const origin = time[first]!;
  for (let i = first; i <= last; i += block, k++) {
    const size = Math.min(block, last + 1 - i);
    let sumT = 0;
    let sumY = 0;
    for (let j = i; j < i + size; j++) {
      sumT += time[j]! - origin;
      sumY += signal[j]!;
    }
    stretch.time[k] = origin + sumT / size;
    stretch.value[k] = sumY / size;
  }
  return k;
}

/** Sample on the straight line between two neighbours; `x` lies within the record. */
function between(time: ArrayLike<number>, signal: ArrayLike<number>, x: number): number {
  const i = Math.max(1, firstAtOrAfter(time, x));
  const part = (x - time[i - 1]!) / (time[i]! - time[i - 1]!);
  return signal[i - 1]! + part * (signal[i]! - signal[i - 1]!);
}

/** Subtracts the polyline from every entry, walking along its knots, and applies the sign. */
function liftOff(stretch: Stretch, base: Polyline | undefined, sign: 1 | -1): void {
  const { time, value, length } = stretch;
  if (base === undefined || base.time.length === 0) {
    if (sign === -1) for (let i = 0; i < length; i++) value[i] = -value[i]!;
    return;
  }
  const knots = base.time.length;
  let knot = firstAtOrAfter(base.time, time[0]!);
  for (let i = 0; i < length;) {
    // The piece that ends at `knot` holds the entries up to it.
    const inside = knot > 0 && knot < knots;
    const origin = inside ? base.time[knot - 1]! : 0;
    const level = base.value[inside ? knot - 1 : knot === 0 ? 0 : knots - 1]!;
    const slope = inside ? (base.value[knot]! - level) / (base.time[knot]! - origin) : 0;
    const stop = knot < knots ? base.time[knot]! : Infinity;
    for (; i < length && time[i]! <= stop; i++) value[i] = sign * (value[i]! - (level + slope * (time[i]! - origin)));
    knot++;
  }
}

/** Index of the first entry at or after `x`; the length when there is none. */
export function firstEntryFrom(stretch: Stretch, x: number): number {
  return firstAtOrAfter(stretch.time, x, stretch.length);
}

/** Index of the last entry at or before `x`; -1 when there is none. */
export function lastEntryTo(stretch: Stretch, x: number): number {
  const index = firstAtOrAfter(stretch.time, x, stretch.length);
  return index < stretch.length && stretch.time[index] === x ? index : index - 1;
}

/** Value on the straight line between entries, level outside. */
export function valueAt(curve: Stretch, x: number): number {
  const { time, value, length } = curve;
  if (length === 0) return 0;
  const after = firstAtOrAfter(time, x, length);
  if (after === 0) return value[0]!;
  if (after === length) return value[length - 1]!;
  const part = (x - time[after - 1]!) / (time[after]! - time[after - 1]!);
  return value[after - 1]! + part * (value[after]! - value[after - 1]!);
}
