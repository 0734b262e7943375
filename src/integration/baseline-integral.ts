import { baselineAt, knotBefore, type Baseline } from '../baseline/index.js';

/** [signal unit min] Exact integral of a baseline between two times. */
export function baselineIntegral(baseline: Baseline, from: number, to: number): number {
  if (!(to > from)) return 0;
  const { time, value } = baseline;
  let t = from;
  let y = baselineAt(baseline, from);
  let sum = 0;
  const last = time.length - 1;
  for (let i = t < time[0]! ? 0 : knotBefore(time, t) + 1; i <= last && time[i]! < to; i++) {
    if (time[i]! <= t) continue;
    sum += (time[i]! - t) * (y + value[i]!);
    t = time[i]!;
    y = value[i]!;
  }
  sum += (to - t) * (y + baselineAt(baseline, to));
  return 0.5 * sum;
}
