import { baselineAt, type Baseline } from '../baseline/index.js';
import type { LinePiece } from './trace-line.js';

/** The corners of a baseline between two times, both ends interpolated. */
export function baselineLine(baseline: Baseline, from: number, to: number): LinePiece {
  const time = [from];
  const value = [baselineAt(baseline, from)];
  for (let k = 0; k < baseline.time.length; k++) {
    const t = baseline.time[k]!;
    if (t > from && t < to) {
      time.push(t);
      value.push(baseline.value[k]!);
    }
  }
  time.push(to);
  value.push(baselineAt(baseline, to));
  return { time, value };
}
