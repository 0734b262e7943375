import { defined } from '../core/index.js';
import { areaBetween, type IntegrationPlan } from '../integration/index.js';
import { findFlatTop } from '../numeric/index.js';
import type { SetApart, SurveyedRun } from '../peaks/index.js';
import type { Disturbance } from '../signal/index.js';
import type { Trace } from '../trace/index.js';

/** Everything in the record that is no peak, in order of time, with the area it keeps. */
export function describeDisturbances(
  trace: Trace,
  plan: IntegrationPlan,
  found: SurveyedRun,
  apart: readonly SetApart[],
): Disturbance[] {
  const list: Disturbance[] = [];
  const add = (
    kind: Disturbance['kind'],
    { start, end, at = start }: { start: number; end: number; at?: number },
    evidence: string,
    height?: number,
    area?: number,
  ): void => void list.push(defined({ kind, start, end, at, height, area, evidence }));
  const area = ({ start, end }: { start: number; end: number }): number =>
    areaBetween(trace, found.baseline, start, end);
  for (const planned of plan.apart ?? []) {
    const source = apart.find(({ candidate }) => candidate.apex === planned.apex)!;
    add(source.kind, { ...planned, at: planned.apex }, source.evidence, source.candidate.height, area(planned));
  }
  for (const spike of found.spikes) {
    const evidence = `Points that stand off a straight signal: ${spike.points}.`;
    add('spike', spike, evidence, spike.height, area(spike));
  }
  for (const { at, rise } of found.steps) {
    const evidence = `The level changes by ${rise.toPrecision(3)} within three points and stays.`;
    add('step', { start: at, end: at }, evidence, rise);
  }
  for (const { from, to } of trace.gaps) {
    add('gap', { start: from, end: to }, `No samples for ${(to - from).toPrecision(3)} min.`);
  }
  const all = [...found.apart.map(({ candidate }) => candidate), ...found.candidates];
  const candidates = new Map(all.map((candidate) => [candidate.apex, candidate]));
  for (const { start, end, apex, direction, revealed } of plan.regions.flatMap(({ peaks }) => peaks)) {
    // A peak that a fit revealed has no top that could be cut off.
    if (revealed) continue;
    // A part that a rule split off has no candidate of its own; its peak has.
    const source = candidates.get(apex) ?? all.find((c) => c.from < end && c.to > start);
    const sigma = source?.sigma ?? (end - start) / 6;
    const flat = findFlatTop(trace.time, trace.signal, start, end, direction === 'up' ? 1 : -1, sigma);
    if (flat === undefined) continue;
    const { from, to, level, points } = flat;
    const evidence = `${points} readings stand at ${level.toPrecision(6)}, the limit of the detector.`;
    add('saturation', { start: from, end: to, at: (from + to) / 2 }, evidence);
  }
  return list.sort((a, b) => a.start - b.start);
}
