import {
  fitRegions,
  integrate,
  obeyRules,
  planIntegration,
  type IntegrationPlan,
  type PlannedPeak,
} from '../integration/index.js';
import { createWorkspace, type Workspace } from '../numeric/index.js';
import { ownMaximum, surveyRun, type SurveyedRun } from '../peaks/index.js';
import { curvatureFactor, levelWithin, noiseAt } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Analysis, Peak } from './analysis.js';
import { identifyComponents } from './components.js';
import { describeDisturbances } from './describe-disturbances.js';
import { doubtDivision } from './doubt-division.js';
import { measureAll } from './measure-all.js';
import { defineMethod, type Method } from './method.js';
import { noiseOfRun } from './noise-of-run.js';
import { libraryName } from './provenance.js';
import {
  expectationsOf,
  failingPeaks,
  idleWarnings,
  integrateHidden,
  onRuledBaseline,
  settledByRule,
  withoutPeaks,
} from './rules-of-run.js';
import { warnAboutRun } from './warn-about-run.js';

/**
 * From a raw trace to peaks: finds what stands out of the noise and the baseline
 * it stands on, decides limits and dividers, integrates the raw signal, measures
 * every peak, and names those whose retention time is known. No setting is
 * needed.
 *
 * The same trace and settings give the same bits, on every engine. Nothing
 * given is changed.
 *
 * @param trace - The record, from {@link createTrace} or a reader; N samples.
 * @param method - What to do otherwise than by default; see {@link Method}.
 * @param workspace - Scratch space to use again over a batch of runs; see {@link createWorkspace}.
 * @returns Peaks with the reason for every decision, what was rejected or set
 *   apart, the baseline, the noise, warnings, the settings that were used, and the plan.
 * @throws PeakwrightError `option-unknown` or `option-invalid` for a setting, `rules-contradict` for two rules that cannot both hold,
 *   `trace-too-short` below 16 samples. Imperfect data gives warnings, not errors.
 *
 * @public
 */
export function analyse(
  trace: Trace,
  method: Partial<Method> = {},
  workspace: Workspace = createWorkspace(),
): Analysis {
  const asked = defineMethod(method);
  const { peakWidth, sharpestBend, leastProminence, leastSignalToNoise, fewestPlates, rules } = asked;
  const options = { peakWidth, sharpestBend, leastProminence, leastSignalToNoise, fewestPlates };
  let found = onRuledBaseline(trace, surveyRun(trace, options, workspace, expectationsOf(rules)), rules);
  let run = measureRun(trace, found, asked);
  const lost = run.peaks.filter((p) => p.signalToNoise?.source === 'this run' && p.signalToNoise.value < leastSeen);
  if (lost.length > 0 && leastSignalToNoise > 0) {
    found = withoutLost(found, lost);
    run = measureRun(trace, found, asked);
  }
  const failing = failingPeaks(run.peaks, rules);
  if (failing.size > 0) {
    found = { ...found, rejected: [...found.rejected, ...failing.values()].sort((a, b) => a.at - b.at) };
    run = { ...run, ...measurePlan(trace, withoutPeaks(run.plan, failing), found, asked, run.disturbances) };
  }
  const { idle, ...decided } = run;
  const analysis: Analysis = {
    trace,
    ...decided,
    ...(run.plan.hidden && { hidden: integrateHidden(trace, run.plan) }),
    rejected: withoutRevealed(found.rejected, run.plan),
    baseline: found.baseline,
    warnings: [...warnAboutRun(trace, found, run.peaks), ...idleWarnings(rules, idle)],
    units: {
      time: 'min',
      signal: trace.signalUnit,
      area: `${trace.signalUnit} s`,
      provenance: {
        timeUnit: trace.meta.timeUnit,
        signalUnit: trace.meta.signalUnit,
        timeOrigin: trace.meta.timeOrigin,
      },
    },
    method: asked,
    settings: { ...asked, ...found.settings },
    provenance: { library: libraryName },
  };
  return asked.components.length > 0 ? identifyComponents(analysis, asked.components) : analysis;
}

/** What was rejected, less the shoulders that a fit made peaks of. */
function withoutRevealed(rejected: Analysis['rejected'], { regions }: IntegrationPlan): Analysis['rejected'] {
  const revealed = regions.flatMap(({ peaks }) => peaks.filter((p) => p.revealed));
  if (revealed.length === 0) return rejected;
  // A shoulder is seen where the signal bends, which is a little beside the apex under it.
  const near = ({ start, end }: PlannedPeak, at: number) =>
    at > start - (end - start) / 4 && at < end + (end - start) / 4;
  return rejected.filter(({ test, at }) => test !== ownMaximum || !revealed.some((p) => near(p, at)));
}

type Decided = Pick<Analysis, 'plan' | 'regions' | 'noise' | 'disturbances' | 'peaks'>;

/** Decides limits and measures everything, for what was found. */
function measureRun(trace: Trace, found: SurveyedRun, asked: Method): Decided & { readonly idle: readonly number[] } {
  const { disturbances: wanted, takeAsPeak, divider, divisionPolicy } = asked;
  const taken = (from: number, to: number): boolean => takeAsPeak.some((t) => t >= from && t <= to);
  const apart = wanted === 'keep as peaks' ? [] : found.apart.filter(({ candidate: c }) => !taken(c.from, c.to));
  const planned = planIntegration(
    trace,
    [...found.candidates, ...found.apart.map((a) => a.candidate)],
    found.baseline,
    {
      divider: divider === 'fit' ? 'drop line' : divider,
      divisionPolicy,
      apart: apart.map((a) => a.candidate),
      bridged: found.spikes
        .filter((s) => !taken(s.start, s.end))
        .map((s) => ({ from: s.start, to: s.end, reason: 'spike' })),
    },
  );
  const { plan: ruled, idle } = obeyRules(trace, planned, asked.rules);
  const plan = divider === 'fit' ? fitRegions(trace, ruled, noiseOfMeans(found), settledByRule(asked.rules)) : ruled;
  const disturbances = describeDisturbances(trace, plan, found, apart);
  return { ...measurePlan(trace, plan, found, asked, disturbances), idle };
}

/** Measures everything under a plan. */
function measurePlan(
  trace: Trace,
  plan: IntegrationPlan,
  found: SurveyedRun,
  asked: Method,
  disturbances: Analysis['disturbances'],
): Decided {
  const { noiseWindow } = asked;
  const { peaks, regions } = integrate(trace, plan);
  const noise = noiseOfRun(trace, found);
  return {
    plan,
    regions,
    noise,
    disturbances,
    peaks: doubtDivision(trace, plan, measureAll(trace, plan, peaks, disturbances, found, noise, noiseWindow), asked),
  };
}

/** [signal unit] Noise of a mean over a length of time, from the noise of the run at that coarseness. */
function noiseOfMeans({ noise, pyramid }: SurveyedRun): (time: number, length: number) => number {
  const whole = pyramid.step * pyramid.levels[0]!.length;
  return (time, length) =>
    noiseAt(noise, levelWithin(pyramid, 0, 1.01 * length), (time - pyramid.start) / whole) / curvatureFactor;
}

/** [-] 2H/h below which a peak cannot be told from the background around it, whatever its neighbourhood promised. */
const leastSeen = 1;

/** What was found, less the candidates of peaks that are lost in the background around them. */
function withoutLost(found: SurveyedRun, lost: readonly Peak[]): SurveyedRun {
  const isLost = ({ apex }: { readonly apex: number }): boolean => lost.some((p) => apex > p.start && apex < p.end);
  return {
    ...found,
    candidates: found.candidates.filter((c) => !isLost(c)),
    apart: found.apart.filter((a) => !isLost(a.candidate)),
    rejected: [
      ...found.rejected,
      ...lost.map(({ retentionTime: at, height, signalToNoise }) => ({
        at,
        height,
        test: 'signal-to-noise, as measured',
        value: signalToNoise!.value,
        limit: leastSeen,
        text: `Its signal-to-noise ratio is ${signalToNoise!.value.toFixed(1)} in the background around it (${leastSeen} needed).`,
      })),
    ].sort((a, b) => a.at - b.at),
  };
}
