import type { Baseline } from '../baseline/index.js';
import { fail } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { curveRules } from './curve-kinds.js';
import type { FittedCurve, IntegrationPlan, PlannedRegion } from './plan.js';

/** [min] Limits that meet may differ by this. */
const rounding = 1e-9;

/** Checks a plan against itself and the trace; gives its baselines by `id`. */
export function checkPlan(trace: Trace, plan: IntegrationPlan): Map<string, Baseline> {
  const baselines = new Map<string, Baseline>();
  for (const baseline of plan.baselines) {
    const { id, time, value } = baseline;
    if (baselines.has(id)) refuse(`two baselines are called ${id}.`, 'baselines', id);
    for (let i = 0; i < Math.max(time.length, value.length, 1); i++) {
      if (!(Number.isFinite(time[i]) && Number.isFinite(value[i])) || time[i]! <= time[i - 1]!) {
        refuse(
          `knot ${i} of baseline ${id} needs a finite level, and a finite time after the knot before.`,
          'baselines',
          id,
        );
      }
    }
    baselines.set(id, baseline);
  }
  const used = new Set<string>();
  for (const region of plan.regions) {
    for (const { id, baseline } of region.peaks) {
      if (used.has(id)) refuse(`two peaks are called ${id}.`, 'id', id);
      used.add(id);
      if (!baselines.has(baseline)) {
        refuse(`peak ${id} stands on baseline ${baseline}, which the plan does not hold.`, 'baseline', baseline);
      }
    }
    checkLimits(trace, region);
    if (region.curves)
      checkCurves(
        region.peaks.map((p) => p.id),
        region.curves,
      );
  }
  return baselines;
}

/** Every peak within the record and its region, none before the end of the one before. */
function checkLimits({ time }: Trace, region: PlannedRegion): void {
  let from = Math.max(time[0]!, region.start);
  const to = Math.min(time[time.length - 1]!, region.end);
  for (const { id, start, end } of region.peaks) {
    if (!(start >= from - rounding && end > start && end <= to + rounding)) {
      refuse(
        `peak ${id} (${start} to ${end} min) must end after its start, within what the record, its region and the peak before leave: ${from} to ${to} min.`,
        start >= from - rounding ? 'end' : 'start',
        start >= from - rounding ? end : start,
      );
    }
    from = end;
  }
}

/** A curve of a known kind for every peak. */
function checkCurves(ids: readonly string[], curves: readonly FittedCurve[]): void {
  for (const { peak, kind, parameters } of curves) {
    const family = Object.hasOwn(curveRules, kind) ? curveRules[kind].family : undefined;
    if (family?.parameters.length === parameters.length && parameters.every(Number.isFinite)) continue;
    refuse(`the curve of peak ${peak} needs a known kind and as many finite parameters as it has.`, 'curves', kind);
  }
  const missing = ids.find((id) => !curves.some(({ peak }) => peak === id));
  if (missing !== undefined)
    refuse(`peak ${missing} has no curve; a region has one for every peak or none.`, 'curves', missing);
}

function refuse(message: string, field: string, value: unknown): never {
  fail('integrate', 'plan-invalid', message, { field, value });
}
