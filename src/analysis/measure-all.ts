import { defined, type Warning } from '../core/index.js';
import { withoutRiders, type IntegratedPeak, type IntegrationPlan } from '../integration/index.js';
import {
  areaPercents,
  measurePeak,
  measureResolution,
  peakToValley,
  signalToNoiseBetween,
  type PeakMeasures,
} from '../measures/index.js';
import { halfWidthOfSigma, joinStretches } from '../numeric/index.js';
import { ownMaximum, type SurveyedRun } from '../peaks/index.js';
import type { Disturbance, Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Peak } from './analysis.js';
import { areaUncertainty } from './area-uncertainty.js';

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
  const busy = [...peaks, ...disturbances].map(({ start, end }) => ({ from: start, to: end }));
  const occupied = joinStretches([...busy, ...found.occupied]);
  const shoulders = found.rejected.filter((r) => r.test === ownMaximum);
  const percents = areaPercents(peaks.map((p) => p.area));
  let before: (IntegratedPeak & PeakMeasures) | undefined;
  return peaks.map((peak, i) => {
    const baseline = baselines.get(peak.baseline)!;
    const measures = measurePeak(peak.transfers ? withoutRiders(trace, plan, peak.id) : trace, peak, baseline);
    const width =
      measures.widths.halfHeight ??
      2 * halfWidthOfSigma * (found.candidates.find((c) => c.apex > peak.start && c.apex < peak.end)?.sigma ?? 0);
    const ratio = signalToNoiseBetween(trace, peak, width, occupied, noise, window);
    const uncertainty = areaUncertainty(peak, found, baseline);
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
        measureResolution(before, { id: peak.id, retentionTime: peak.retentionTime, widths: measures.widths }),
      signalToNoise: ratio.signalToNoise,
    });
    if (before?.end === peak.start && peak.startKind !== 'baseline') {
      const valley = peakToValley(trace, before, complete, baselines.get('run') ?? baseline).value;
      if (valley !== undefined) complete.peakToValley = valley;
    }
    before = complete;
    return complete;
  });
}

/** What may still be added to. */
type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** What a shoulder means for the peak it sits on. */
function shoulderWarnings({ start, end }: IntegratedPeak, shoulders: SurveyedRun['rejected']): Warning[] {
  return shoulders
    .filter(({ at }) => at > start && at < end)
    .map(({ at, text }) => ({ code: 'peak-with-shoulder', message: `${text} Its area is in the peak.`, at }));
}
