import type { Baseline } from '../baseline/index.js';
import { defined, type Warning } from '../core/index.js';
import { withoutRiders, type IntegratedPeak, type IntegrationPlan, type PlannedRegion } from '../integration/index.js';
import {
  areaPercents,
  measurePeak,
  measureResolution,
  peakToValley,
  signalToNoiseBetween,
  type PeakMeasures,
} from '../measures/index.js';
import { firstAtOrAfter, halfWidthOfSigma, joinStretches } from '../numeric/index.js';
import { ownMaximum, type SurveyedRun } from '../peaks/index.js';
import type { Disturbance, Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Peak } from './analysis.js';
import { areaUncertainty } from './area-uncertainty.js';
import { measureOnCurve } from './measure-curve.js';
import { withResolution, type WithApex } from './resolution-uncertainty.js';
import { withinRun } from './within-run.js';

/** Every measure of every peak of a run. */
export function measureAll(
  trace: Trace,
  plan: IntegrationPlan,
  peaks: readonly IntegratedPeak[],
  disturbances: readonly Disturbance[],
  found: SurveyedRun,
  noise: Noise,
  window: number,
): Peak[] {
  const baselines = new Map(plan.baselines.map((b) => [b.id, b]));
  const curves = new Map(plan.regions.flatMap((r) => r.curves ?? []).map((c) => [c.peak, c]));
  const occupied = occupiedBy([...peaks, ...disturbances], found);
  const shoulders = found.rejected.filter((r) => r.test === ownMaximum);
  const percents = areaPercents(peaks.map((p) => p.area));
  const regions = new Map(plan.regions.flatMap((r) => (r.curves ? r.peaks.map((p) => [p.id, r] as const) : [])));
  let before: Mutable<Peak> | undefined;
  let there: WithApex | undefined;
  return peaks.map((peak, i) => {
    const baseline = baselines.get(peak.baseline)!;
    const { measures, apex, measuredOn } = measureWhereItShows(
      peak.transfers ? withoutRiders(trace, plan, peak.id) : trace,
      peak,
      baseline,
      regions.get(peak.id),
    );
    const width =
      measures.widths.halfHeight ??
      2 * halfWidthOfSigma * (found.candidates.find((c) => c.apex > peak.start && c.apex < peak.end)?.sigma ?? 0);
    const ratio = signalToNoiseBetween(trace, peak, width, occupied, noise, window);
    const step = sampleDistance(trace, peak);
    const uncertainty = areaUncertainty(peak, noise, step, baseline, curves.get(peak.id));
    // Written out: spreading several objects into one costs more than measuring them.
    const complete: Mutable<Peak> = defined({
      id: peak.id,
      retentionTime: peak.retentionTime,
      height: peak.height,
      area: peak.area,
      transfers: peak.transfers,
      dividedArea: peak.dividedArea,
      fittedArea: peak.fittedArea,
      fittedAreaUncertainty: peak.fittedAreaUncertainty,
      start: peak.start,
      end: peak.end,
      startKind: peak.startKind,
      endKind: peak.endKind,
      baselineStart: peak.baselineStart,
      baselineEnd: peak.baselineEnd,
      baseline: peak.baseline,
      direction: peak.direction,
      decisions: peak.decisions,
      warnings: [...peak.warnings, ...measures.warnings, ...ratio.warnings, ...shoulderWarnings(peak, shoulders)],
      measuredOn,
      widths: measures.widths,
      plates: measures.plates,
      tailingFactor: measures.tailingFactor,
      asymmetry: measures.asymmetry,
      moments: measures.moments,
      areaUncertainty: uncertainty.areaUncertainty,
      areaUncertaintyParts: uncertainty.areaUncertaintyParts,
      areaPercent: percents[i],
      resolution:
        before &&
        there &&
        measureResolution(
          { id: before.id, retentionTime: there.apex, widths: before.widths },
          { id: peak.id, retentionTime: apex, widths: measures.widths },
        ),
      signalToNoise: ratio.signalToNoise,
    });
    if (before?.end === peak.start && peak.startKind !== 'baseline') {
      const valley = peakToValley(trace, before, complete, baselines.get('run') ?? baseline).value;
      if (valley !== undefined) complete.peakToValley = valley;
    }
    const within = withinRun(complete, noise, baseline, step, apex - peak.retentionTime);
    const here = { retentionTime: peak.retentionTime, widths: measures.widths, apex, within };
    if (within) complete.withinRun = withResolution(within, complete.resolution?.halfHeight, there, here);
    before = complete;
    there = here;
    return complete;
  });
}

/** Measures on the trace, or on the fitted curve where neighbours cover the peak, with the apex they are about [min]. */
function measureWhereItShows(
  trace: Trace,
  peak: IntegratedPeak,
  baseline: Baseline,
  region: PlannedRegion | undefined,
): { measures: PeakMeasures; apex: number; measuredOn: 'fitted curve' | undefined } {
  const { retentionTime: at } = peak;
  const onCurve = region && measureOnCurve(trace, region, peak.id);
  if (!onCurve) return { measures: measurePeak(trace, peak, baseline), apex: at, measuredOn: undefined };
  const message = `The peak at ${at.toFixed(3)} min is covered by a neighbour: widths, plates, tailing, asymmetry, moments and resolution are those of its fitted curve.`;
  const warnings = [{ code: 'measured-on-curve', message, at }, ...onCurve.warnings];
  return { measures: { ...onCurve, warnings }, apex: onCurve.apex, measuredOn: 'fitted curve' };
}

/** Where there is no bare background. */
function occupiedBy(
  what: readonly { readonly start: number; readonly end: number }[],
  found: SurveyedRun,
): ReturnType<typeof joinStretches> {
  return joinStretches([...what.map(({ start, end }) => ({ from: start, to: end })), ...found.occupied]);
}

/** [min] Mean distance of the samples of a peak. */
function sampleDistance({ time }: Trace, { start, end }: IntegratedPeak): number {
  return (end - start) / Math.max(1, firstAtOrAfter(time, end) - firstAtOrAfter(time, start));
}

/** What may still be added to. */
type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** What a shoulder means for the peak it sits on. */
function shoulderWarnings({ start, end }: IntegratedPeak, shoulders: SurveyedRun['rejected']): Warning[] {
  return shoulders
    .filter(({ at }) => at > start && at < end)
    .map(({ at, text }) => ({ code: 'peak-with-shoulder', message: `${text} Its area is in the peak.`, at }));
}
