import type { Baseline } from '../baseline/index.js';
import { liftStretch, locateApex } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';

/** Deepest place between two apexes. */
export interface Valley {
  /** [min] Where. */
  readonly at: number;
  /** [signal unit] Height of the signal above the baseline there, in the direction of the peaks. */
  readonly height: number;
  /** Whether the signal has a minimum there; otherwise it falls all the way. */
  readonly isMinimum: boolean;
}

/**
 * Finds the valley between two peaks of one direction: from the lowest running
 * mean over about half a standard deviation of the narrower peak to the minimum
 * of a local fit over 0.4 standard deviations on either side, so that noise does
 * not lower it. Between peaks of opposite direction it is the place where the
 * running mean is closest to the baseline.
 *
 * @param sigma - [min] Standard deviation of the narrower peak.
 * @param sign - 1 when the first peak points up, -1 when it points down.
 * @param sameDirection - Whether the second points the same way.
 */
export function findValley(
  trace: Pick<Trace, 'time' | 'signal'>,
  base: Baseline,
  start: number,
  end: number,
  sigma: number,
  sign: 1 | -1,
  sameDirection: boolean,
): Valley {
  const { time, value } = liftStretch(trace.time, trace.signal, base, start, end, sign);
  const inner = time.length - 2;
  const half = Math.max(0, Math.floor(Math.min((0.3 * sigma * inner) / (end - start), (inner - 1) / 2)));
  let sum = 0;
  let lowest = Infinity;
  let approx = (start + end) / 2;
  for (let i = 1; i <= inner; i++) {
    sum += value[i]!;
    if (i <= 2 * half) continue;
    const height = sameDirection ? sum : Math.abs(sum);
    if (height < lowest) {
      lowest = height;
      approx = time[i - half]!;
    }
    sum -= value[i - 2 * half]!;
  }
  if (!sameDirection) return { at: approx, height: 0, isMinimum: true };
  const valley = locateApex(trace.time, trace.signal, {
    approx,
    start,
    end,
    sign: sign === 1 ? -1 : 1,
    base,
    // The valley bends more sharply than an apex: half the width.
    sigma: sigma / 2,
  });
  return { at: valley.time, height: sign * valley.height, isMinimum: valley.method !== 'as given' };
}
