import type { Warning } from '../core/index.js';
import type { IntegratedPeak, IntegrationPlan } from '../integration/index.js';
import {
  areaPercents,
  measurePeak,
  measureResolution,
  measureSignalToNoise,
  peakToValley,
  type PeakMeasures,
} from '../measures/index.js';
import { createStretch } from '../numeric/index.js';
import type { SurveyedRun } from '../peaks/index.js';
import type { Disturbance, Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Peak } from './analysis.js';
import { areaUncertainty } from './area-uncertainty.js';

/** [-] Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;

/** Every measure of every peak of a run. */
export function measureAll(
  trace: Trace,
  plan: IntegrationPlan,
  peaks: readonly IntegratedPeak[],
  disturbances: readonly Disturbance[],
  found: SurveyedRun,
  noise: Noise,
  noiseWindow: number,
): Peak[] {
  const baselines = new Map(plan.baselines.map((b) => [b.id, b]));
  const occupied = stretchesTaken(peaks, disturbances);
  const percents = areaPercents(peaks.map((p) => p.area));
  const work = createStretch();
  let before: (IntegratedPeak & PeakMeasures) | undefined;
  return peaks.map((peak, i) => {
    const baseline = baselines.get(peak.baseline)!;
    const measures = measurePeak(trace, peak, baseline, {}, work);
    const warnings: Warning[] = [...peak.warnings, ...measures.warnings];
    const sigma =
      measures.widths.halfHeight === undefined
        ? found.candidates.find((c) => c.apex > peak.start && c.apex < peak.end)?.sigma
        : undefined;
    const width = measures.widths.halfHeight ?? (sigma === undefined ? undefined : halfHeightFactor * sigma);
    const ratio =
      width === undefined
        ? undefined
        : measureSignalToNoise(trace, peak, width, occupied, noise, { window: noiseWindow });
    if (ratio !== undefined) warnings.push(...ratio.warnings);
    const touches = before !== undefined && before.end === peak.start && peak.startKind !== 'baseline';
    const valley = touches ? peakToValley(trace, before!, peak, baselines.get('run') ?? baseline, work) : undefined;
    const complete: Peak = {
      ...peak,
      ...measures,
      ...(percents[i] === undefined ? {} : { areaPercent: percents[i] }),
      ...areaUncertainty(peak, found, baseline),
      ...(before === undefined ? {} : { resolution: measureResolution(before, { ...peak, ...measures }) }),
      ...(valley?.value === undefined ? {} : { peakToValley: valley.value }),
      ...(ratio?.signalToNoise === undefined ? {} : { signalToNoise: ratio.signalToNoise }),
      warnings,
    };
    before = complete;
    return complete;
  });
}

/** Stretches that hold peaks or disturbances, in order of time and joined where they overlap. */
function stretchesTaken(
  peaks: readonly IntegratedPeak[],
  disturbances: readonly Disturbance[],
): { start: number; end: number }[] {
  const all = [...peaks, ...disturbances].map(({ start, end }) => ({ start, end })).sort((a, b) => a.start - b.start);
  const joined: { start: number; end: number }[] = [];
  for (const { start, end } of all) {
    const last = joined.at(-1);
    if (last !== undefined && start <= last.end) last.end = Math.max(last.end, end);
    else joined.push({ start, end });
  }
  return joined;
}
