import { firstAtOrAfter } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';

/** A run of readings at the extreme of a peak. */
export interface FlatTop {
  readonly from: number;
  readonly to: number;
  readonly level: number;
  readonly points: number;
}

/** Readings in a row that must not differ. */
const fewestPoints = 4;

/**
 * The flat top between two times: readings in a row that equal the highest
 * (lowest) to within a part in ten thousand of the range, when the flanks beside them are steep,
 * as of a signal that was clipped. A rounded top of a quantised signal is not flat in this sense: it leaves
 * its level by single steps.
 */
export function findFlatTop(
  trace: Trace,
  start: number,
  end: number,
  sign: 1 | -1,
  least: number,
): FlatTop | undefined {
  const { time, signal } = trace;
  const first = firstAtOrAfter(time, start);
  const last = firstAtOrAfter(time, end) - 1;
  if (last - first < fewestPoints + 4) return undefined;
  let high = -Infinity;
  let low = Infinity;
  for (let i = first; i <= last; i++) {
    const y = sign * signal[i]!;
    if (y > high) high = y;
    if (y < low) low = y;
  }
  const near = high - 1e-4 * (high - low);
  let a = first;
  while (sign * signal[a]! < near) a++;
  let b = last;
  while (sign * signal[b]! < near) b--;
  const points = b - a + 1;
  if (points < fewestPoints || a - 2 < first || b + 2 > last) return undefined;
  for (let i = a; i <= b; i++) if (sign * signal[i]! < near) return undefined;
  // A rounded top leaves its level slowly: clipped, the first step beside the flat is large.
  const drop = Math.min(high - sign * signal[a - 2]!, high - sign * signal[b + 2]!);
  const rounded = Math.max((high - low) * 2e-3, least);
  return drop > rounded ? { from: time[a]!, to: time[b]!, level: sign * high, points } : undefined;
}
