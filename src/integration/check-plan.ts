import type { Baseline } from '../baseline/index.js';
import { fail } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { curveRules } from './curve-kinds.js';
import type { FittedCurve, IntegrationPlan, PlannedPeak, PlannedRegion } from './plan.js';

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

/** Every peak within the record and its region, or the peak it rides on, and none before the end of the one before. */
function checkLimits({ time }: Trace, region: PlannedRegion): void {
  const end = Math.min(time[time.length - 1]!, region.end);
  checkOrder(region.peaks, undefined, Math.max(time[0]!, region.start), end);
  const known = new Set(region.peaks.map(({ id }) => id));
  for (const peak of region.peaks) {
    if (peak.rides === undefined) continue;
    if (region.curves) {
      refuse(
        `peak ${peak.id} rides, and its region has curves; it is divided by one or the other.`,
        'rides',
        peak.rides,
      );
    }
    if (!known.has(peak.rides)) {
      refuse(`peak ${peak.id} rides on peak ${peak.rides}, which its region does not hold.`, 'rides', peak.rides);
    }
    // A ring of riders would carry each other; on the way down from any peak there are fewer steps than peaks.
    let under: PlannedPeak | undefined = peak;
    for (let steps = 0; under; steps++) {
      if (steps > known.size) refuse(`peak ${peak.id} rides on itself, by way of others.`, 'rides', peak.rides);
      under = region.peaks.find(({ id }) => id === under!.rides);
    }
  }
  for (const { id, start, end: last } of region.peaks) checkOrder(region.peaks, id, start, last);
}

/** Peaks that ride on one, or on none, in order within its limits. */
function checkOrder(peaks: readonly PlannedPeak[], on: string | undefined, first: number, to: number): void {
  let from = first;
  for (const { id, start, end, rides } of peaks) {
    if (rides !== on) continue;
    if (!(start >= from - rounding && end > start && end <= to + rounding)) {
      const room = on === undefined ? 'its region' : `peak ${on}`;
      refuse(
        `peak ${id} (${start} to ${end} min) must end after its start, within what the record, ${room} and the peak before leave: ${from} to ${to} min.`,
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
