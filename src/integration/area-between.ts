import type { Baseline } from '../baseline/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { BridgedStretch } from './plan.js';
import { polylineIntegral } from './polyline-integral.js';

/**
 * [signal unit s] Area between the signal and a baseline from one time to
 * another: exact for a signal that is straight between samples, on the real
 * time axis, with limits between samples. Signal below the baseline counts
 * negative. Stretches that are bridged count as straight.
 */
export function areaBetween(
  trace: Pick<Trace, 'time' | 'signal'>,
  baseline: Baseline,
  from: number,
  to: number,
  bridged: readonly BridgedStretch[] = [],
): number {
  if (!(to > from)) return 0;
  const signal = { time: trace.time, value: trace.signal };
  let area = polylineIntegral(signal, from, to) - polylineIntegral(baseline, from, to);
  for (const stretch of bridged) {
    const a = Math.max(from, stretch.from);
    const b = Math.min(to, stretch.to);
    if (!(b > a)) continue;
    const ends = [stretch.from, stretch.to];
    const bridge = { time: ends, value: ends.map((t) => polylineAt(signal, t)) };
    area += polylineIntegral(bridge, a, b) - polylineIntegral(signal, a, b);
  }
  return 60 * area;
}
