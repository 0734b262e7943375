import { defined, type Warning } from '../core/index.js';
import type { IntegratedPeak, IntegrationPlan } from '../integration/index.js';
import {
  areaPercents,
  measurePeak,
  measureResolution,
  measureSignalToNoise,
  peakToValley,
  type PeakMeasures,
} from '../measures/index.js';
import { halfWidthOfSigma } from '../numeric/index.js';
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
  const occupied = [
    ...peaks,
    ...disturbances,
    ...found.occupied.map(({ from, to }) => ({ start: from, end: to })),
  ].sort((a, b) => a.start - b.start);
  const percents = areaPercents(peaks.map((p) => p.area));
  let before: (IntegratedPeak & PeakMeasures) | undefined;
  return peaks.map((peak, i) => {
    const baseline = baselines.get(peak.baseline)!;
    const measures = measurePeak(trace, peak, baseline);
    const candidate = found.candidates.find((c) => c.apex > peak.start && c.apex < peak.end);
    const width = measures.widths.halfHeight ?? 2 * halfWidthOfSigma * (candidate?.sigma ?? 0);
    const ratio = measureSignalToNoise(trace, peak, width, occupied, noise, { window });
    const touches = before?.end === peak.start && peak.startKind !== 'baseline';
    const own = { ...peak, ...measures };
    const complete: Peak = defined({
      ...own,
      ...areaUncertainty(peak, found, baseline),
      areaPercent: percents[i],
      resolution: before && measureResolution(before, own),
      peakToValley: touches ? peakToValley(trace, before!, own, baselines.get('run') ?? baseline).value : undefined,
      signalToNoise: ratio.signalToNoise,
      warnings: [...peak.warnings, ...measures.warnings, ...ratio.warnings, ...shoulderWarnings(peak, found)],
    });
    before = complete;
    return complete;
  });
}

/** What a shoulder means for the peak it sits on. */
function shoulderWarnings({ start, end }: IntegratedPeak, { rejected }: SurveyedRun): Warning[] {
  return rejected
    .filter((r) => r.test === ownMaximum && r.at > start && r.at < end)
    .map(({ at, text }) => ({ code: 'peak-with-shoulder', message: `${text} Its area is in the peak.`, at }));
}
