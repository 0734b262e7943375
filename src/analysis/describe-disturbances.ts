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
  const area = ({ start, end }: { start: number; end: number }): number =>
    areaBetween(trace, found.baseline, start, end);
  const noise = Math.max(found.noise.quantum, found.noise.level[0]!);
  const list: Disturbance[] = [
    ...(plan.apart ?? []).flatMap((planned) =>
      apart
        .filter(({ candidate }) => candidate.apex === planned.apex)
        .map(({ kind, candidate: { height }, evidence }) => {
          const { start, end, apex: at } = planned;
          return { kind, start, end, at, height, area: area(planned), evidence };
        }),
    ),
    ...found.spikes.map((spike) => {
      const { start, end, at, height, points } = spike;
      const evidence = `Off a signal that otherwise runs straight through; points that stand off: ${points}.`;
      return { kind: 'spike' as const, start, end, at, height, area: area(spike), evidence };
    }),
    ...found.steps.map(({ at, jump: height }) => {
      const evidence = `The level changes by ${height.toPrecision(3)} within three points and stays.`;
      return { kind: 'step' as const, start: at, end: at, at, height, evidence };
    }),
    ...trace.gaps.map(({ from, to }) => {
      const evidence = `No samples for ${(to - from).toPrecision(3)} min.`;
      return { kind: 'gap' as const, start: from, end: to, at: from, evidence };
    }),
    ...plan.regions.flatMap(({ peaks }) =>
      peaks.flatMap(({ start, end, direction }) => {
        // What a saturated detector writes: the top stays within a hair of its highest reading for long.
        const flat = findFlatTop(trace.time, trace.signal, start, end, direction === 'up' ? 1 : -1, 5 * noise);
        if (flat === undefined) return [];
        const { from, to, level, points } = flat;
        const evidence = `${points} readings in a row stand at ${level.toPrecision(6)}, the limit of the detector.`;
        return { kind: 'saturation' as const, start: from, end: to, at: (from + to) / 2, evidence };
      }),
    ),
  ];
  return list.sort((a, b) => a.start - b.start);
}
