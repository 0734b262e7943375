import { defined } from '../core/index.js';
import { areaBetween, straighten, type IntegrationPlan } from '../integration/index.js';
import { findFlatTop } from '../numeric/index.js';
import type { SetApart, SurveyedRun } from '../peaks/index.js';
import type { AxisFaults, Disturbance, Spike } from '../signal/index.js';
import type { Trace } from '../trace/index.js';

/** A stretch with its extreme. */
interface Place {
  readonly start: number;
  readonly end: number;
  readonly at?: number;
}

/** Takes down one of them. */
type Add = (
  kind: Disturbance['kind'],
  place: Place,
  evidence: string,
  text: string,
  height?: number,
  area?: number,
) => void;

/** Everything in the record that is no peak, in order of time, with the area it keeps. */
export function describeDisturbances(
  trace: Trace,
  plan: IntegrationPlan,
  found: SurveyedRun,
  apart: readonly SetApart[],
  spikes: readonly Spike[],
  { clockSteps }: AxisFaults,
): Disturbance[] {
  const list: Disturbance[] = [];
  const add: Add = (kind, { start, end, at = start }, evidence, text, height, area) =>
    void list.push(defined({ kind, start, end, at, height, area, evidence, text }));
  const area = ({ start, end }: Place): number => areaBetween(trace, found.baseline, start, end);
  const promote = (at: number): string => `takeAsPeak: [${at.toFixed(4)}] makes it a peak.`;
  for (const planned of plan.apart ?? []) {
    const source = apart.find(({ candidate }) => candidate.apex === planned.apex)!;
    const text = `It is in no peak and keeps its area; ${promote(planned.apex)}`;
    const { kind, evidence, candidate } = source;
    add(kind, { ...planned, at: planned.apex }, evidence, text, candidate.height, area(planned));
  }
  for (const spike of spikes) {
    const evidence = `Points that stand off a straight signal: ${spike.points}.`;
    const text = `The signal is taken as straight below it, and it keeps its area; ${promote(spike.at)}`;
    const { start: from, end: to } = spike;
    const above = area(spike) - areaBetween(trace, found.baseline, from, to, [{ from, to, reason: 'spike' }]);
    add('spike', spike, evidence, text, spike.height, above);
  }
  for (const { at, rise } of found.steps) {
    const evidence = `The level changes by ${rise.toPrecision(3)} within three points and stays.`;
    add('step', { start: at, end: at }, evidence, 'The baseline takes the step; it has no end, so no area.', rise);
  }
  addClockFaults(trace, clockSteps, add);
  const calm = straighten(trace, plan.bridged);
  const all = [...found.apart.map(({ candidate }) => candidate), ...found.candidates];
  const candidates = new Map(all.map((candidate) => [candidate.apex, candidate]));
  for (const { start, end, apex, direction, revealed } of plan.regions.flatMap(({ peaks }) => peaks)) {
    // A peak that a fit revealed has no top that could be cut off.
    if (revealed) continue;
    // A part that a rule split off has no candidate of its own; its peak has.
    const source = candidates.get(apex) ?? all.find((c) => c.from < end && c.to > start);
    const sigma = source?.sigma ?? (end - start) / 6;
    const flat = findFlatTop(trace.time, calm.signal, start, end, direction === 'up' ? 1 : -1, sigma);
    if (flat === undefined) continue;
    const { from, to, level, points } = flat;
    const evidence = `${points} readings stand at ${level.toPrecision(6)}, the limit of the detector.`;
    const text = 'What lies beyond was not recorded: height and area of the peak are lower bounds.';
    add('saturation', { start: from, end: to, at: (from + to) / 2 }, evidence, text);
  }
  return list.sort((a, b) => a.start - b.start);
}

/** What the clock of the record did. */
function addClockFaults(trace: Trace, clockSteps: AxisFaults['clockSteps'], add: Add): void {
  for (const { from, to } of trace.gaps) {
    const evidence = `No samples for ${(to - from).toPrecision(3)} min.`;
    add('gap', { start: from, end: to }, evidence, 'Nothing is known there; areas take the signal as straight.');
  }
  for (const { start, end, usual, shown } of clockSteps) {
    const seconds = (minutes: number): string => `${(60 * minutes).toPrecision(3)} s`;
    const how = shown ? 'shows that one usual interval passed' : 'runs on, and is too flat there to tell which passed';
    const off = end - start - usual;
    const evidence = `One interval of ${seconds(end - start)} among intervals of ${seconds(usual)}; the signal ${how}.`;
    const text = `From here on times are ${seconds(Math.abs(off))} too ${off > 0 ? 'late' : 'early'} against those before; nothing was corrected.`;
    add('clock step', { start, end }, evidence, text);
  }
  for (const { code, at } of trace.warnings) {
    if (code !== 'backward-times-dropped' || at === undefined || at < trace.time[0]! || at > trace.time.at(-1)!)
      continue;
    const text = 'The samples that went back were dropped; times after it may be off against those before.';
    add('clock step', { start: at, end: at }, 'The clock of the source went back.', text);
  }
}
