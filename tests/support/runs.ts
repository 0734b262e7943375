import { createTrace, simulateTrace, type PeakRecipe, type Trace, type TraceRecipe } from '../../src/index.js';

/** A run of vanilla extract of an invented laboratory: separate, touching and small peaks, noise of 0.05 mAU, a drift of 6 mAU/h. */
export function vanillaRecipe(seed: number, more: Partial<TraceRecipe> = {}): TraceRecipe {
  const peak = (retentionTime: number, height: number, sigma: number, tau = 0.01): PeakRecipe => ({
    shape: 'emg',
    retentionTime,
    height,
    sigma,
    tau,
  });
  return {
    duration: 12,
    interval: 0.2,
    baseline: { offset: 3, drift: 6 },
    noise: { white: 0.05 },
    seed,
    peaks: [peak(3, 40, 0.04), peak(4.6, 12, 0.045), peak(6.5, 300, 0.05), peak(6.75, 90, 0.05), peak(9, 3, 0.06)],
    ...more,
  };
}

/** The record of {@link vanillaRecipe}. */
export function vanillaRun(seed: number, more: Partial<TraceRecipe> = {}): Trace {
  return simulateTrace(vanillaRecipe(seed, more)).trace;
}

/** The record with other readings. */
export function withSignal(trace: Trace, signal: (y: number, i: number) => number): Trace {
  return createTrace({
    time: trace.time,
    signal: trace.signal.map(signal),
    timeUnit: 'min',
    signalUnit: trace.signalUnit,
    injectedAt: 0,
  });
}
