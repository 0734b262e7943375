import { baselineAt, type Baseline } from '../baseline/index.js';
import { PeakwrightError, type Warning } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { baselineIntegral } from './baseline-integral.js';
import type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
import type { IntegrationPlan, PlannedPeak } from './plan.js';
import { firstAtOrAfter, signalIntegral } from './samples.js';

/** What {@link integrate} gives. */
export interface Integration {
  /** The peaks in order of time. */
  readonly peaks: readonly IntegratedPeak[];
  /** The regions with their totals. */
  readonly regions: readonly IntegratedRegion[];
}

/** Measures position, height and area of every peak of a plan on the raw trace. */
export function integrate(trace: Trace, plan: IntegrationPlan): Integration {
  const baselines = new Map(plan.baselines.map((b) => [b.id, b]));
  const peaks: IntegratedPeak[] = [];
  const regions: IntegratedRegion[] = [];
  for (const region of plan.regions) {
    let area = 0;
    for (const planned of region.peaks) {
      const baseline = baselines.get(planned.baseline);
      if (baseline === undefined) {
        throw new PeakwrightError('plan-invalid', `integrate: peak ${planned.id} stands on baseline ${planned.baseline}, which the plan does not hold.`, {
          field: 'baseline',
          value: planned.baseline,
        });
      }
      const peak = integratePeak(trace, planned, baseline);
      area += peak.area;
      peaks.push(peak);
    }
    regions.push({ start: region.start, end: region.end, area, peaks: region.peaks.map((p) => p.id) });
  }
  return { peaks, regions };
}

function integratePeak(trace: Trace, planned: PlannedPeak, baseline: Baseline): IntegratedPeak {
  const { time, signal } = trace;
  const { start, end } = planned;
  const area = 60 * (signalIntegral(time, signal, start, end) - baselineIntegral(baseline, start, end));
  const sign = planned.direction === 'up' ? 1 : -1;
  const first = firstAtOrAfter(time, start);
  const last = Math.max(first, firstAtOrAfter(time, end) - 1);
  let top = first;
  let height = -Infinity;
  for (let i = first; i <= last; i++) {
    const r = sign * (signal[i]! - baselineAt(baseline, time[i]!));
    if (r > height) {
      height = r;
      top = i;
    }
  }
  const warnings: Warning[] = [];
  return {
    id: planned.id,
    retentionTime: time[top]!,
    height: sign * height,
    area,
    start,
    end,
    startKind: planned.startKind,
    endKind: planned.endKind,
    baselineStart: baselineAt(baseline, start),
    baselineEnd: baselineAt(baseline, end),
    baseline: planned.baseline,
    direction: planned.direction,
    decisions: planned.decisions,
    warnings,
  };
}
