import { defined, resolveOptions } from '../core/index.js';
import {
  fitRegions,
  integrate,
  obeyRules,
  planIntegration,
  straighten,
  type IntegrationPlan,
  type PlannedPeak,
} from '../integration/index.js';
import { createWorkspace, type Workspace } from '../numeric/index.js';
import { ownMaximum, surveyRun, type SurveyedRun } from '../peaks/index.js';
import { curvatureFactor, findAxisFaults, levelWithin, noiseAt, type AxisFaults } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Analysis, Peak } from './analysis.js';
import { besideBlank, blankWarnings, checkBlank, methodOfBlank } from './blank.js';
import { identifyComponents } from './components.js';
import { describeDisturbances } from './describe-disturbances.js';
import { doubtDivision } from './doubt-division.js';
import { filterOf } from './filter-lag.js';
import { holdUpTime } from './hold-up-time.js';
import { markPeaks } from './mark-peaks.js';
import { measureAll } from './measure-all.js';
import { defineMethod, type Method } from './method.js';
import { noiseOfRun } from './noise-of-run.js';
import { spikeAsCandidate } from './promote-spikes.js';
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
 * What {@link analyse} may be given besides the record and the method.
 *
 * @public
 */
export interface AnalyseOptions {
  /**
   * A run without sample, in the same unit and at least as long. It informs and checks: signal-to-noise ratios take
   * their noise from it, peaks it has too and a baseline that departs from its own are warned about. It changes
   * no limit and no area, and is not subtracted; {@link subtractBlank} does that on request.
   *
   * @defaultValue none
   */
  readonly blank?: Trace | undefined;
  /**
   * Scratch space to use again over a batch of runs; see {@link createWorkspace}.
   *
   * @defaultValue none: a new one
   */
  readonly workspace?: Workspace | undefined;
}

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
 * @param options - A blank, and scratch space to use again; see {@link AnalyseOptions}. A workspace alone will do as well.
 * @returns Peaks with the reason for every decision, what was rejected or set
 *   apart, the baseline, the noise, warnings, the settings that were used, and the plan.
 * @throws PeakwrightError `option-unknown` or `option-invalid` for a setting, `rules-contradict` for two rules that cannot both hold,
 *   `trace-too-short` below 16 samples, `unit-mismatch` or `blank-too-short` for a blank in another unit or one that does not
 *   cover the run. Imperfect data gives warnings, not errors.
 *
 * @example
 * ```ts
 * const column = { duration: 10, interval: 0.2, noise: { white: 0.05 } };
 * const peak = { shape: 'gaussian', retentionTime: 6, height: 40, sigma: 0.05 };
 * const { trace } = simulateTrace({ ...column, peaks: [peak], seed: 1 });
 * const { trace: blank } = simulateTrace({ ...column, seed: 2 });
 * analyse(trace).peaks[0].signalToNoise.source; // => 'this run'
 * analyse(trace, {}, { blank }).peaks[0].signalToNoise.source; // => 'blank'
 * ```
 *
 * @public
 */
export function analyse(
  trace: Trace,
  method: Partial<Method> = {},
  options: AnalyseOptions | Workspace = {},
): Analysis {
  // Most who analyse a batch have no blank: the workspace alone is short for it.
  const given = 'take' in options ? { workspace: options } : options;
  const { blank, workspace = createWorkspace() } = resolveOptions<AnalyseOptions>('analyse', defaults, given);
  if (blank !== undefined) checkBlank(trace, blank);
  const asked = defineMethod(method);
  const { peakWidth, sharpestBend, leastProminence, leastSignalToNoise, falseAlarms, fewestPlates, rules } = asked;
  const limits = { peakWidth, sharpestBend, leastProminence, leastSignalToNoise, falseAlarms, fewestPlates };
  let found = onRuledBaseline(trace, surveyRun(trace, limits, workspace, expectationsOf(rules)), rules);
  const axis = findAxisFaults(trace, found.noise.level[0]! / curvatureFactor);
  let run = measureRun(trace, found, asked, axis);
  // The blank has its own workspace: what was found in the run lies in that of the run.
  const ofBlank = blank && analyse(blank, methodOfBlank(asked, found.settings));
  const informed = (peaks: readonly Peak[]): readonly Peak[] =>
    ofBlank ? besideBlank(peaks, ofBlank, asked.noiseWindow) : peaks;
  const failing = failingPeaks(informed(run.peaks), rules);
  if (failing.size > 0) {
    found = { ...found, rejected: [...found.rejected, ...failing.values()].sort((a, b) => a.at - b.at) };
    run = { ...run, ...measurePlan(trace, withoutPeaks(run.plan, failing), found, asked, run.disturbances) };
  }
  const { idle, ...decided } = run;
  const peaks = markPeaks(informed(run.peaks), { ...decided, trace, method: asked }, filterOf(trace, run.noise, found));
  const analysis: Analysis = {
    trace,
    ...decided,
    peaks,
    ...defined({ holdUpTime: holdUpTime(found, trace), blank: ofBlank }),
    ...(run.plan.hidden && { hidden: integrateHidden(trace, run.plan) }),
    rejected: withoutRevealed(found.rejected, run.plan),
    baseline: found.baseline,
    warnings: [
      ...warnAboutRun(trace, found, run.peaks, run.noise, axis),
      ...(ofBlank ? blankWarnings(trace, found.baseline, run.noise, ofBlank) : []),
      ...idleWarnings(rules, idle),
    ],
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

const defaults: AnalyseOptions = { blank: undefined, workspace: undefined };

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
function measureRun(
  trace: Trace,
  found: SurveyedRun,
  asked: Method,
  axis: AxisFaults,
): Decided & { readonly idle: readonly number[] } {
  const { disturbances: wanted, takeAsPeak, divider, divisionPolicy } = asked;
  const taken = (from: number, to: number): boolean =>
    wanted === 'keep as peaks' || takeAsPeak.some((t) => t >= from && t <= to);
  const apart = found.apart.filter(({ candidate: c }) => !taken(c.from, c.to));
  const spikes = found.spikes.filter((s) => !taken(s.start, s.end));
  const promoted = found.spikes.filter((s) => !spikes.includes(s)).map((s) => spikeAsCandidate(s, found));
  const planned = planIntegration(
    trace,
    [...found.candidates, ...found.apart.map((a) => a.candidate), ...promoted],
    found.baseline,
    {
      divider: divider === 'fit' ? 'drop line' : divider,
      divisionPolicy,
      apart: apart.map((a) => a.candidate),
      bridged: spikes.map((s) => ({ from: s.start, to: s.end, reason: 'spike' })),
    },
  );
  const { plan: ruled, idle } = obeyRules(trace, planned, asked.rules);
  const plan = divider === 'fit' ? fitRegions(trace, ruled, noiseOfMeans(found), settledByRule(asked.rules)) : ruled;
  const disturbances = describeDisturbances(trace, plan, found, apart, spikes, axis);
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
    peaks: doubtDivision(
      trace,
      plan,
      measureAll(straighten(trace, plan.bridged), plan, peaks, disturbances, found, noise, noiseWindow),
      asked,
    ),
  };
}

/** [signal unit] Noise of a mean over a length of time, from the noise of the run at that coarseness. */
function noiseOfMeans({ noise, pyramid }: SurveyedRun): (time: number, length: number) => number {
  const whole = pyramid.step * pyramid.levels[0]!.length;
  return (time, length) =>
    noiseAt(noise, levelWithin(pyramid, 0, 1.01 * length), (time - pyramid.start) / whole) / curvatureFactor;
}
