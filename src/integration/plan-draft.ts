import type { Baseline } from '../baseline/index.js';
import { liftStretch, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { Decision, HiddenPeak, LimitKind, PlannedPeak } from './plan.js';
import { nameOf } from './name-of.js';

/** A plan while rules change it. */
export interface PlanDraft {
  readonly trace: Trace;
  /** The baseline of the run. */
  readonly run: Baseline;
  /** In order of time. */
  readonly peaks: readonly PlannedPeak[];
  readonly apart: readonly PlannedPeak[];
  readonly hidden: readonly HiddenPeak[];
}

/** [min] Place of the highest sample over the run's baseline (the lowest for a peak that points down); the middle when there is none inside. */
export function highestBetween(
  { trace, run }: PlanDraft,
  direction: PlannedPeak['direction'],
  start: number,
  end: number,
): number {
  const { time, value } = liftStretch(trace.time, trace.signal, run, start, end, direction === 'up' ? 1 : -1);
  let top = 1;
  for (let i = 2; i < time.length - 1; i++) if (value[i]! > value[top]!) top = i;
  return top < time.length - 1 ? time[top]! : (start + end) / 2;
}

/** [signal unit] Height of the signal over the run's baseline at a place, without sign. */
export function heightAt({ trace, run }: PlanDraft, t: number): number {
  return Math.abs(polylineAt({ time: trace.time, value: trace.signal }, t) - polylineAt(run, t));
}

/** A name made of the place that no peak of the plan has. */
export function freshId({ peaks, apart, hidden }: PlanDraft, apex: number): string {
  return nameOf({ apex }, new Set([...peaks, ...apart, ...hidden].map(({ id }) => id)));
}

/** The peak with a new start or end, and why. */
export function moveLimit(
  peak: PlannedPeak,
  about: 'start' | 'end',
  at: number,
  kind: LimitKind,
  rule: string,
  text: string,
): PlannedPeak {
  const decision: Decision = { about, rule, at, text };
  const decisions = [...peak.decisions.filter((d) => d.about !== about), decision];
  return about === 'start'
    ? { ...peak, start: at, startKind: kind, decisions }
    : { ...peak, end: at, endKind: kind, decisions };
}
