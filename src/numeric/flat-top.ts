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

/** Readings a flat top has at least. */
const fewestPoints = 4;
/** [-] Share of the height within which readings count as equal: room for noise on a clipped top. */
const hair = 0.005;
/** [-] Least length in standard deviations; a Gaussian stays within the hair of its top for 0.2 of them. */
const leastLength = 0.5;
/** [sigma] Length of the highest step of a rounded top over the root of its share of the height, and room. */
const roundedLength = 2.4;
/** [-] Share of the readings between the ends that must be within the hair. */
const leastShare = 0.9;

/**
 * The flat top between two times, as a saturated detector writes it: readings
 * that stay within 0.5 % of the height of their highest (lowest) for at least half
 * a standard deviation, which no rounded top does.
 *
 * @param sign - 1 for a peak that points up, -1 for one that points down.
 * @param sigma - Standard deviation of the peak.
 */
export function findFlatTop(
  time: Float64Array,
  signal: Float64Array,
  start: number,
  end: number,
  sign: 1 | -1,
  sigma: number,
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
  const near = high - hair * (high - low);
  let a = -1;
  let b = -1;
  let points = 0;
  for (let i = first; i <= last; i++) {
    if (sign * signal[i]! < near) continue;
    if (a < 0) a = i;
    b = i;
    points++;
  }
  // Without flanks on both sides nothing says that this is a top.
  if (a === first || b === last) return undefined;
  if (points < fewestPoints || points < leastShare * (b - a + 1)) return undefined;
  // The top of a coarsely quantised peak is as long as its last step is high.
  const step = (high - Math.max(sign * signal[a - 1]!, sign * signal[b + 1]!)) / (high - low);
  const least = Math.max(leastLength, roundedLength * Math.sqrt(step)) * sigma;
  return time[b]! - time[a]! < least ? undefined : { from: time[a]!, to: time[b]!, level: sign * high, points };
}
