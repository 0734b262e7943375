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

/** A stretch of samples lifted off a polyline, ready to be measured; at least its two ends. */
export interface Stretch {
  /** Positions, increasing. */
  readonly time: Float64Array;
  /** Sign times (sample minus polyline). */
  readonly value: Float64Array;
  /** Samples averaged into each inner entry; 1 when none were. */
  readonly block: number;
}

/** More samples than this are averaged in equal blocks. */
const mostSamples = 1024;

/** Index of the first entry that is not below `x`; the length when there is none. */
export function firstAtOrAfter(sorted: ArrayLike<number>, x: number): number {
  let low = 0;
  let high = sorted.length;
  // Samples come at nearly equal distances: what is looked for is near where it would be if they were equal.
  const from = sorted[0]!;
  const part = (x - from) / (sorted[high - 1]! - from);
  if (high > 64 && part > 0 && part < 1) {
    const guess = Math.floor(part * (high - 1));
    for (let reach = 4; ; reach *= 4) {
      if (guess - reach > low && sorted[guess - reach]! < x) low = guess - reach + 1;
      if (guess + reach < high && !(sorted[guess + reach]! < x)) high = guess + reach;
      if (high - low <= 2 * reach || reach > sorted.length) break;
    }
  }
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle]! < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The same, when it is near the entry `near`. */
export function nextAtOrAfter(sorted: ArrayLike<number>, x: number, near: number): number {
  let i = near;
  while (i > 0 && sorted[i - 1]! >= x) i--;
  while (i < sorted.length && sorted[i]! < x) i++;
  return i;
}

/** Value of a polyline at `x`. */
export function polylineAt(line: Polyline, x: number): number {
  return pieceAt(line, firstAtOrAfter(line.time, x), x);
}

/** Value at `x` of the straight line that holds the piece which ends at the point `after`. */
export function pieceAt({ time, value }: Polyline, after: number, x: number): number {
  if (after === 0) return value[0]!;
  const level = value[after - 1]!;
  if (after === time.length) return level;
  const from = time[after - 1]!;
  return level + ((x - from) / (time[after]! - from)) * (value[after]! - level);
}

/**
 * Lifts the samples between two positions off a polyline. An end that lies
 * between two samples gets an entry of its own on the straight line between
 * them; ends outside the record are moved to it. More than 1024 samples are
 * averaged in equal blocks, which keeps sums and slopes and costs a Gaussian
 * of p blocks per standard deviation 1/(24 p²) of its height.
 *
 * @param time - N positions, strictly increasing.
 * @param signal - N samples.
 * @param base - What to subtract.
 * @param from - Where it starts.
 * @param to - Where it ends.
 * @param sign - 1, or -1 to turn it upside down.
 */
export function liftStretch(
  time: Float64Array,
  signal: Float64Array,
  base: Polyline,
  from: number,
  to: number,
  sign: 1 | -1,
): Stretch {
  const begin = Math.max(from, time[0]!);
  const end = Math.min(to, time[time.length - 1]!);
  let first = firstAtOrAfter(time, begin);
  if (time[first] === begin) first++;
  const after = firstAtOrAfter(time, end);
  const block = Math.max(1, Math.ceil((after - first) / mostSamples));
  const last = Math.max(0, Math.ceil((after - first) / block)) + 1;
  const t = new Float64Array(last + 1);
  const y = new Float64Array(last + 1);
  const record = { time, value: signal };
  t[0] = begin;
  y[0] = polylineAt(record, begin);
  t[last] = end;
  y[last] = polylineAt(record, end);
  if (block === 1) {
    t.set(time.subarray(first, after), 1);
    y.set(signal.subarray(first, after), 1);
  }
  for (let k = 1, i = first; k < last && block > 1; k++) {
    const origin = time[i]!;
    const stop = Math.min(i + block, after);
    const size = stop - i;
    let sumT = 0;
    let sumY = 0;
    for (; i < stop; i++) {
      sumT += time[i]! - origin;
      sumY += signal[i]!;
    }
    t[k] = origin + sumT / size;
    y[k] = sumY / size;
  }
  let knot = firstAtOrAfter(base.time, begin);
  for (let k = 0; k <= last; knot++) {
    // The piece that ends at this knot, and the entries up to it.
    const stop = base.time[knot] ?? Infinity;
    const level = pieceAt(base, knot, begin);
    const slope = pieceAt(base, knot, begin + 1) - level;
    for (; k <= last && t[k]! <= stop; k++) y[k] = sign * (y[k]! - level - slope * (t[k]! - begin));
  }
  return { time: t, value: y, block };
}
