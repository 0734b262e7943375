import { baselineAt, type Baseline } from '../baseline/index.js';
import type { Warning } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { createStretch, locateApex, type Stretch } from '../numeric/index.js';
import { areaBetween } from './area-between.js';
import type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
import { checkPlan } from './check-plan.js';
import type { BridgedStretch, IntegrationPlan, PlannedPeak } from './plan.js';

/**
 * What {@link integrate} gives.
 *
 * @public
 */
export interface Integration {
  /** The peaks in order of time. */
  readonly peaks: readonly IntegratedPeak[];
  /** The regions with their totals. */
  readonly regions: readonly IntegratedRegion[];
}

/**
 * Measures position, height and area of every peak of a plan on the raw trace.
 * Nothing is decided here: any plan will do, the library's own, an edited one, or
 * one made of somebody else's limits.
 *
 * Area is exact for the signal that is straight between samples, on the real
 * time axis, between limits that may lie between samples; inside a region the areas of the
 * peaks add up to the area of the region. Height and time of the apex come from a local fit.
 *
 * @param trace - The record, N samples.
 * @param plan - Baselines and regions; see {@link IntegrationPlan}.
 * @returns Peaks in order of time and regions with their totals [signal unit s].
 * @throws PeakwrightError `plan-invalid` when limits are not finite, not in
 *   order, overlap inside a region or leave the record, or a baseline is missing.
 *
 * @public
 */
export function integrate(trace: Trace, plan: IntegrationPlan): Integration {
  const baselines = checkPlan(trace, plan);
  const bridged = plan.bridged ?? [];
  const work = createStretch();
  const peaks: IntegratedPeak[] = [];
  const regions: IntegratedRegion[] = [];
  for (const region of plan.regions) {
    let area = 0;
    for (const planned of region.peaks) {
      const peak = integratePeak(trace, planned, baselines.get(planned.baseline)!, bridged, work);
      area += peak.area;
      peaks.push(peak);
    }
    regions.push({ start: region.start, end: region.end, area, peaks: region.peaks.map((p) => p.id) });
  }
  return { peaks, regions };
}

function integratePeak(
  trace: Trace,
  planned: PlannedPeak,
  baseline: Baseline,
  bridged: readonly BridgedStretch[],
  work: Stretch,
): IntegratedPeak {
  const { start, end } = planned;
  const sign = planned.direction === 'up' ? 1 : -1;
  const apex = locateApex(trace.time, trace.signal, { approx: planned.apex, start, end, sign, base: baseline }, work);
  const warnings: Warning[] = [];
  const warn = (code: string, message: string, at: number) => warnings.push({ code, message, at });
  const place = `The peak at ${apex.time.toFixed(3)} min`;
  if (planned.startKind === 'cut off' || planned.endKind === 'cut off') {
    warn('peak-cut-off', `${place} is cut off by the record: its area is a lower bound.`, apex.time);
  }
  if (apex.method === 'plateau') {
    warn(
      'peak-flat-top',
      `${place} has a flat top, as a saturated detector writes: height and area are lower bounds.`,
      apex.time,
    );
  }
  if (apex.method === 'as given') {
    warn(
      'peak-without-maximum',
      `${place} has no maximum of its own: height and time are those of the place it was given.`,
      apex.time,
    );
  }
  for (const gap of trace.gaps) {
    if (gap.from < end && gap.to > start) {
      warn(
        'peak-over-gap',
        `${place} holds a stretch without samples (${gap.from.toFixed(3)} to ${gap.to.toFixed(3)} min), integrated as straight.`,
        gap.from,
      );
    }
  }
  for (const stretch of bridged) {
    if (stretch.from < end && stretch.to > start) {
      warn(
        'peak-bridged',
        `${place} holds a bridged stretch (${stretch.reason}, ${stretch.from.toFixed(3)} to ${stretch.to.toFixed(3)} min), integrated as straight.`,
        stretch.from,
      );
    }
  }
  return {
    id: planned.id,
    retentionTime: apex.time,
    height: apex.height,
    area: areaBetween(trace, baseline, start, end, bridged),
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
