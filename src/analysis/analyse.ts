import { integrate, planIntegration } from '../integration/index.js';
import { createWorkspace, type Workspace } from '../numeric/index.js';
import { surveyRun } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';
import type { Analysis } from './analysis.js';
import { identifyComponents } from './components.js';
import { describeDisturbances } from './describe-disturbances.js';
import { measureAll } from './measure-all.js';
import { defineMethod, type Method } from './method.js';
import { noiseOfRun } from './noise-of-run.js';
import { libraryName } from './provenance.js';
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
 * @throws PeakwrightError `option-unknown` or `option-invalid` for a setting,
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
  const { peakWidth, sharpestBend, leastProminence, leastSignalToNoise, fewestPlates } = asked;
  const found = surveyRun(
    trace,
    { peakWidth, sharpestBend, leastProminence, leastSignalToNoise, fewestPlates },
    workspace,
  );
  const apart =
    asked.disturbances === 'keep as peaks'
      ? []
      : found.apart.filter(({ candidate: c }) => !asked.takeAsPeak.some((t) => t >= c.from && t <= c.to));
  const plan = planIntegration(trace, [...found.candidates, ...found.apart.map((a) => a.candidate)], found.baseline, {
    divider: asked.divider,
    apart: apart.map((a) => a.candidate),
    bridged: found.spikes
      .filter((s) => !asked.takeAsPeak.some((t) => t >= s.start && t <= s.end))
      .map((s) => ({ from: s.start, to: s.end, reason: 'spike' })),
  });
  const { peaks, regions } = integrate(trace, plan);
  const noise = noiseOfRun(found);
  const disturbances = describeDisturbances(trace, plan, found, apart);
  const analysis: Analysis = {
    trace,
    peaks: measureAll(trace, plan, peaks, disturbances, found, noise, asked.noiseWindow),
    rejected: found.rejected,
    regions,
    baseline: found.baseline,
    noise,
    disturbances,
    warnings: warnAboutRun(trace, found, peaks),
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
    plan,
    provenance: { library: libraryName },
  };
  return asked.components.length > 0 ? identifyComponents(analysis, asked.components) : analysis;
}
