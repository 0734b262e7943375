import { firstAtOrAfter, polylineAt, type Polyline } from '../numeric/index.js';

/** [signal unit min] Exact integral of a polyline from one time to a later one. */
export function polylineIntegral(line: Polyline, from: number, to: number): number {
  const { time, value } = line;
  let t = from;
  let y = polylineAt(line, from);
  let sum = 0;
  for (let i = firstAtOrAfter(time, from); time[i]! < to; i++) {
    sum += (time[i]! - t) * (y + value[i]!);
    t = time[i]!;
    y = value[i]!;
  }
  return 0.5 * (sum + (to - t) * (y + polylineAt(line, to)));
}
