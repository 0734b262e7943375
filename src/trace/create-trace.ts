import { PeakwrightError } from '../core/index.js';
import type { Trace } from './trace.js';

/** Thin line: widened by the trace part. */
export function createTrace(input: {
  readonly time: ArrayLike<number>;
  readonly signal: ArrayLike<number>;
  readonly timeUnit?: 'min' | 's';
  readonly signalUnit?: string;
}): Trace {
  const scale = input.timeUnit === 's' ? 60 : 1;
  if (input.time.length !== input.signal.length) throw new PeakwrightError('trace-invalid', 'createTrace: time and signal differ in length.');
  const time = Float64Array.from(input.time, (t) => t / scale);
  const signalUnit = input.signalUnit ?? 'mAU';
  return {
    time,
    signal: Float64Array.from(input.signal),
    signalUnit,
    gaps: [],
    meta: {
      timeUnit: { unit: input.timeUnit ?? 'min', provenance: 'declared' },
      signalUnit: { unit: signalUnit, provenance: 'declared' },
      timeOrigin: 'start of record',
    },
    warnings: [],
  };
}
