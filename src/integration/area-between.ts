import type { Baseline } from '../baseline/index.js';
import type { Trace } from '../trace/index.js';
import { baselineIntegral } from './baseline-integral.js';
import type { BridgedStretch } from './plan.js';
import { signalAt, signalIntegral } from './samples.js';

/**
 * [signal unit s] Area between the signal and a baseline from one time to
 * another: exact for a signal that is straight between samples, on the real
 * time axis, with limits between samples. Signal below the baseline counts
 * negative. Stretches that are bridged count as straight.
 */
export function areaBetween(
  trace: Trace,
  baseline: Baseline,
  from: number,
  to: number,
  bridged: readonly BridgedStretch[] = [],
): number {
  const { time, signal } = trace;
  let area = signalIntegral(time, signal, from, to);
  for (const stretch of bridged) {
    const a = Math.max(from, stretch.from);
    const b = Math.min(to, stretch.to);
    if (!(b > a)) continue;
    const slope =
      (signalAt(time, signal, stretch.to) - signalAt(time, signal, stretch.from)) / (stretch.to - stretch.from);
    const straight = signalAt(time, signal, stretch.from) + slope * ((a + b) / 2 - stretch.from);
    area += straight * (b - a) - signalIntegral(time, signal, a, b);
  }
  return 60 * (area - baselineIntegral(baseline, from, to));
}
