import type { Baseline } from '../baseline/index.js';
import { PeakwrightError } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import type { IntegrationPlan } from './plan.js';

/** Checks a plan against itself and the trace; gives its baselines by `id`. */
export function checkPlan(trace: Trace, plan: IntegrationPlan): Map<string, Baseline> {
  const fail = (message: string, field: string, value: unknown): never => {
    throw new PeakwrightError('plan-invalid', `integrate: ${message}`, { field, value });
  };
  const first = trace.time[0]!;
  const last = trace.time[trace.time.length - 1]!;
  const baselines = new Map<string, Baseline>();
  for (const baseline of plan.baselines) {
    const { id, time, value } = baseline;
    if (baselines.has(id)) fail(`two baselines are called ${id}.`, 'baselines', id);
    if (time.length === 0 || time.length !== value.length) {
      fail(
        `baseline ${id} has ${time.length} times and ${value.length} levels; give as many of both, at least one.`,
        'baselines',
        id,
      );
    }
    for (let i = 0; i < time.length; i++) {
      if (!Number.isFinite(time[i]!) || !Number.isFinite(value[i]!) || (i > 0 && !(time[i]! > time[i - 1]!))) {
        fail(
          `knot ${i} of baseline ${id} (${time[i]!} min, ${value[i]!}) is not finite or not later than the one before.`,
          'baselines',
          id,
        );
      }
    }
    baselines.set(id, baseline);
  }
  const used = new Set<string>();
  for (const region of plan.regions) {
    let reached = region.start;
    for (const { id, start, end, baseline } of region.peaks) {
      if (used.has(id)) fail(`two peaks are called ${id}.`, 'id', id);
      used.add(id);
      if (!baselines.has(baseline))
        fail(`peak ${id} stands on baseline ${baseline}, which the plan does not hold.`, 'baseline', baseline);
      if (!Number.isFinite(start) || !Number.isFinite(end) || !(end > start)) {
        fail(`peak ${id} runs from ${start} to ${end} min; its end must be later than its start.`, 'start', start);
      }
      if (start < first || end > last) {
        fail(`peak ${id} (${start} to ${end} min) leaves the record (${first} to ${last} min).`, 'start', start);
      }
      if (start < reached - 1e-9)
        fail(
          `peak ${id} starts at ${start} min, before ${reached} min, where its region or the peak before it ${start < region.start ? 'begins' : 'ends'}.`,
          'start',
          start,
        );
      reached = end;
    }
    if (reached > region.end + 1e-9)
      fail(`the region that ends at ${region.end} min holds a peak that ends at ${reached} min.`, 'end', reached);
  }
  return baselines;
}
