import { areaBetween, findFlatTop, type IntegrationPlan } from '../integration/index.js';
import type { SurveyedRun, SetApart } from '../peaks/index.js';
import type { Disturbance } from '../signal/index.js';
import type { Trace } from '../trace/index.js';

/** Everything in the record that is no peak, in order of time, with the area it keeps. */
export function describeDisturbances(
  trace: Trace,
  plan: IntegrationPlan,
  found: SurveyedRun,
  apart: readonly SetApart[],
): Disturbance[] {
  const run = found.baseline;
  const list: Disturbance[] = [];
  for (const planned of plan.apart ?? []) {
    const source = apart.find((a) => a.candidate.apex === planned.apex);
    if (source === undefined) continue;
    list.push({
      kind: source.kind,
      start: planned.start,
      end: planned.end,
      at: planned.apex,
      height: source.candidate.height,
      area: areaBetween(trace, run, planned.start, planned.end),
      evidence: source.evidence,
    });
  }
  for (const spike of found.spikes) {
    list.push({
      kind: 'spike',
      start: spike.start,
      end: spike.end,
      at: spike.at,
      height: spike.height,
      area: areaBetween(trace, run, spike.start, spike.end),
      evidence: `${spike.points === 1 ? 'One point stands' : `${spike.points} points stand`} off a signal that otherwise runs straight through.`,
    });
  }
  for (const step of found.steps) {
    list.push({
      kind: 'step',
      start: step.at,
      end: step.at,
      at: step.at,
      height: step.jump,
      evidence: `The level changes by ${step.jump.toPrecision(3)} within three points and stays.`,
    });
  }
  for (const gap of trace.gaps) {
    list.push({
      kind: 'gap',
      start: gap.from,
      end: gap.to,
      at: gap.from,
      evidence: `No samples for ${(gap.to - gap.from).toPrecision(3)} min.`,
    });
  }
  list.push(...flatTops(trace, plan, Math.max(5 * found.noise.quantum, 5 * found.noise.level[0]!)));
  return list.sort((a, b) => a.start - b.start);
}

/** Tops of peaks that stay within a hair of their highest reading for long: what a saturated detector writes. */
function flatTops(trace: Trace, plan: IntegrationPlan, least: number): Disturbance[] {
  const list: Disturbance[] = [];
  for (const region of plan.regions) {
    for (const planned of region.peaks) {
      const flat = findFlatTop(trace, planned.start, planned.end, planned.direction === 'up' ? 1 : -1, least);
      if (flat !== undefined) {
        list.push({
          kind: 'saturation',
          start: flat.from,
          end: flat.to,
          at: (flat.from + flat.to) / 2,
          evidence: `${flat.points} readings in a row stand at ${flat.level.toPrecision(6)}, the limit of the detector.`,
        });
      }
    }
  }
  return list;
}
