import { firstAtOrAfter, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { IntegrationPlan } from './plan.js';

/** The record as a peak has it to itself: along everything that rides on it the signal is that skim. */
export function withoutRiders(trace: Trace, plan: IntegrationPlan, id: string): Trace {
  const riders = plan.regions.flatMap(({ peaks }) => peaks.filter(({ rides }) => rides === id));
  if (riders.length === 0) return trace;
  const signal = trace.signal.slice();
  for (const { start, end, baseline } of riders) {
    const skim = plan.baselines.find((b) => b.id === baseline)!;
    const after = firstAtOrAfter(trace.time, end);
    for (let i = firstAtOrAfter(trace.time, start); i < after; i++) signal[i] = polylineAt(skim, trace.time[i]!);
  }
  return { ...trace, signal };
}
