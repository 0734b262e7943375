import { baselineAt, type Baseline } from '../baseline/index.js';
import { defined, type Warning } from '../core/index.js';
import { locateApex, polylineAt, type Apex } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { areaBetween } from './area-between.js';
import { checkPlan } from './check-plan.js';
import type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
import { transferToRiders } from './transfer-area.js';
import { shareArea, type Share } from './share-area.js';
import type { BridgedStretch, IntegrationPlan, PlannedPeak } from './plan.js';
import { straighten } from './straighten.js';

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
 * peaks add up to the area of the region; what is taken off a peak for those that ride on it stands in `transfers`. Height and time of the apex come from a local fit.
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
  const straight = [
    ...trace.gaps.map(({ from, to }) => ({ code: 'peak-over-gap', from, to, reason: 'no samples' })),
    ...(plan.bridged ?? []).map((stretch) => ({ code: 'peak-bridged', ...stretch })),
  ];
  const calm = straighten(trace, plan.bridged);
  const peaks: IntegratedPeak[] = [];
  const regions = plan.regions.map((region) => {
    let area = 0;
    let between = 0;
    const shares = region.curves
      ? shareArea({ time: trace.time, value: calm.signal }, baselines.get(region.peaks[0]!.baseline)!, region)
      : [];
    region.peaks.forEach((planned, i) => {
      const divided = integratePeak(trace, calm.signal, planned, baselines.get(planned.baseline)!, straight);
      const share = shares[i];
      const alone = shares.length === 1 && region.curveNoise === undefined;
      const peak = share ? byShare(divided, share, alone) : divided;
      area += peak.area;
      between += divided.area;
      peaks.push(peak);
    });
    const riding = region.peaks.some(({ rides }) => rides !== undefined);
    if (riding) area = transferToRiders(region.peaks, peaks);
    return {
      start: region.start,
      end: region.end,
      area,
      ...(shares.length > 0 && { dividedArea: between }),
      peaks: region.peaks.map((p) => p.id),
    };
  });
  return { peaks, regions };
}

/** What to doubt about a peak by the way its apex was found. */
const doubts: Partial<Record<Apex['method'], readonly [code: string, why: string]>> = {
  plateau: ['peak-flat-top', 'has a flat top, as a saturated detector writes: height and area are lower bounds.'],
  'as given': [
    'peak-without-maximum',
    'has no maximum of its own: height and time are those of the place it was given.',
  ],
};

/** A peak with its share of the region instead of what its limits cut out. */
function byShare(divided: IntegratedPeak, { area, fitted, deviation, atApex }: Share, alone: boolean): IntegratedPeak {
  return alone
    ? { ...divided, fittedArea: fitted, ...defined({ fittedAreaUncertainty: deviation }) }
    : {
        ...divided,
        area,
        height: divided.height * atApex,
        dividedArea: divided.area,
        fittedArea: fitted,
        ...defined({ fittedAreaUncertainty: deviation }),
      };
}

function integratePeak(
  trace: Trace,
  value: Float64Array,
  planned: PlannedPeak,
  baseline: Baseline,
  straight: readonly (BridgedStretch & { readonly code: string })[],
): IntegratedPeak {
  const { id, start, end, startKind, endKind, direction, decisions } = planned;
  const sign = direction === 'up' ? 1 : -1;
  const signal = { time: trace.time, value };
  const apex: Apex = planned.revealed
    ? {
        time: planned.apex,
        height: polylineAt(signal, planned.apex) - baselineAt(baseline, planned.apex),
        method: 'local fit',
      }
    : locateApex(trace.time, value, { approx: planned.apex, start, end, sign, base: baseline });
  const warnings: Warning[] = [];
  const warn = (code: string, why: string, at = apex.time): void => {
    warnings.push({ code, message: `The peak at ${apex.time.toFixed(3)} min ${why}`, at });
  };
  if (startKind === 'cut off' || endKind === 'cut off') {
    warn('peak-cut-off', 'is cut off by the record: its area is a lower bound.');
  }
  if (startKind === 'by rule' || endKind === 'by rule') {
    warn('peak-cut-by-rule', 'is cut by a rule: its area is that of the part that is left.');
  }
  const doubt = doubts[apex.method];
  if (doubt) warn(...doubt);
  for (const { code, from, to, reason } of straight) {
    if (from < end && to > start) {
      warn(code, `is integrated as straight from ${from.toFixed(3)} to ${to.toFixed(3)} min: ${reason}.`, from);
    }
  }
  return {
    id,
    retentionTime: apex.time,
    height: apex.height,
    area: areaBetween(trace, baseline, start, end, straight),
    start,
    end,
    startKind,
    endKind,
    baselineStart: baselineAt(baseline, start),
    baselineEnd: baselineAt(baseline, end),
    baseline: baseline.id,
    direction,
    decisions,
    warnings,
  };
}
