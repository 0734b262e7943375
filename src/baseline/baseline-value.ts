import type { Baseline } from './baseline.js';

/**
 * [signal unit] Level of a baseline at a time: straight between knots, level
 * outside them.
 */
export function baselineAt(baseline: Baseline, t: number): number {
  const { time, value } = baseline;
  const last = time.length - 1;
  if (t <= time[0]!) return value[0]!;
  if (t >= time[last]!) return value[last]!;
  const i = knotBefore(time, t);
  const t0 = time[i]!;
  return value[i]! + ((value[i + 1]! - value[i]!) * (t - t0)) / (time[i + 1]! - t0);
}

/** [signal unit] Standard uncertainty of a baseline at a time, 0 when none is known. */
export function baselineUncertaintyAt(baseline: Baseline, t: number): number {
  return baseline.uncertainty === undefined
    ? 0
    : baselineAt({ id: baseline.id, kind: baseline.kind, time: baseline.time, value: baseline.uncertainty }, t);
}

/** Index of the last knot at or before `t`. */
export function knotBefore(time: ArrayLike<number>, t: number): number {
  let low = 0;
  let high = time.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (time[middle]! <= t) low = middle;
    else high = middle;
  }
  return low;
}
