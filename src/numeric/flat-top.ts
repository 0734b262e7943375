import { firstAtOrAfter } from './stretch.js';

/** A run of readings at the extreme of a peak. */
export interface FlatTop {
  /** Start. */
  readonly from: number;
  /** End. */
  readonly to: number;
  /** The highest (lowest) reading. */
  readonly level: number;
  /** Readings in a row. */
  readonly points: number;
}

/** Readings in a row that must not differ. */
const fewestPoints = 4;

/**
 * The flat top between two times: readings in a row that equal the highest
 * (lowest) to within a part in ten thousand of the range, when the flanks
 * beside them are steep, as of a signal that was clipped. A rounded top of a
 * quantised signal is not flat in this sense: it leaves its level by single
 * steps.
 *
 * @param sign - 1 for a peak that points up, -1 for one that points down.
 * @param least - Least drop within two readings beside the flat.
 */
export function findFlatTop(
  time: Float64Array,
  signal: Float64Array,
  start: number,
  end: number,
  sign: 1 | -1,
  least: number,
): FlatTop | undefined {
  const first = firstAtOrAfter(time, start);
  const last = firstAtOrAfter(time, end) - 1;
  let high = -Infinity;
  let low = Infinity;
  for (let i = first; i <= last; i++) {
    const y = sign * signal[i]!;
    if (y > high) high = y;
    if (y < low) low = y;
  }
  const range = high - low;
  const isHigh = (i: number): boolean => sign * signal[i]! >= high - 1e-4 * range;
  let a = first;
  while (a <= last && !isHigh(a)) a++;
  let b = a;
  while (b < last && isHigh(b + 1)) b++;
  const points = b - a + 1;
  if (points < fewestPoints || a - 2 < first || b + 2 > last) return undefined;
  for (let i = b + 1; i <= last; i++) if (isHigh(i)) return undefined;
  // A rounded top leaves its level slowly: clipped, the first step beside the flat is large.
  const drop = high - Math.max(sign * signal[a - 2]!, sign * signal[b + 2]!);
  return drop > Math.max(range * 2e-3, least)
    ? { from: time[a]!, to: time[b]!, level: sign * high, points }
    : undefined;
}
