import { firstAtOrAfter } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { BridgedStretch } from './plan.js';

/** The record with straight lines across stretches that are bridged, so that a spike is no apex; itself without any. */
export function straighten(trace: Trace, bridged: readonly BridgedStretch[] = []): Trace {
  if (bridged.length === 0) return trace;
  const { time } = trace;
  const signal = trace.signal.slice();
  const last = time.length - 1;
  for (const { from, to } of bridged) {
    const first = Math.max(0, firstAtOrAfter(time, from));
    const end = Math.min(last, firstAtOrAfter(time, to));
    for (let i = first + 1; i < end; i++) {
      const part = (time[i]! - time[first]!) / (time[end]! - time[first]!);
      signal[i] = signal[first]! + part * (signal[end]! - signal[first]!);
    }
  }
  return { ...trace, signal };
}
