import { baselineAt, type Baseline } from '../baseline/index.js';
import { firstAtOrAfter } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';

/** Deepest place between two apexes. */
export interface Valley {
  /** [min] Where. */
  readonly at: number;
  /** [signal unit] Height of the signal above the baseline there, in the direction of the peaks. */
  readonly height: number;
}

/**
 * Finds the valley between two peaks of one direction: the lowest running mean
 * over about half a standard deviation of the narrower peak, refined by the
 * parabola through three of them. Between peaks of opposite direction it is the place where the
 * running mean is closest to the baseline.
 */
export function findValley(
  trace: Trace,
  baseline: Baseline,
  from: number,
  to: number,
  sigma: number,
  sign: 1 | -1,
  sameDirection: boolean,
): Valley {
  const { time, signal } = trace;
  const first = firstAtOrAfter(time, from);
  const last = Math.max(first, firstAtOrAfter(time, to) - 1);
  const count = last - first + 1;
  if (count < 3) {
    const at = (from + to) / 2;
    return { at, height: 0 };
  }
  const step = (time[last]! - time[first]!) / (count - 1);
  const half = Math.max(0, Math.min(Math.floor((0.3 * sigma) / step), (count - 3) >> 1));
  const width = 2 * half + 1;
  let sum = 0;
  for (let i = first; i < first + width; i++) sum += signal[i]!;
  const value = (centre: number, total: number) => {
    const r = sign * (total / width - baselineAt(baseline, time[centre]!));
    return sameDirection ? r : Math.abs(r);
  };
  let best = first + half;
  let bestValue = value(best, sum);
  let before = bestValue;
  let after = bestValue;
  let previous = bestValue;
  let wanted = false;
  for (let centre = first + half + 1; centre + half <= last; centre++) {
    sum += signal[centre + half]! - signal[centre - half - 1]!;
    const v = value(centre, sum);
    if (wanted) {
      after = v;
      wanted = false;
    }
    if (v < bestValue) {
      best = centre;
      bestValue = v;
      before = previous;
      after = v;
      wanted = true;
    }
    previous = v;
  }
  const bend = before - 2 * bestValue + after;
  const shift = bend > 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0;
  const at = time[best]! + shift * step;
  return { at: Math.min(Math.max(at, time[first]!), time[last]!), height: sameDirection ? bestValue : 0 };
}
