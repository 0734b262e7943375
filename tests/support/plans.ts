import type { Baseline, Candidate, IntegrationPlan, PlannedPeak } from '../../src/index.js';

/** A straight baseline called `run` through two points. */
export function straight(from: number, to: number, atFrom = 0, atTo = 0): Baseline {
  return { id: 'run', kind: 'straight', time: [from, to], value: [atFrom, atTo] };
}

/** A peak of a plan made by hand, on the baseline called `run`. */
export function plannedPeak(
  id: string,
  start: number,
  end: number,
  more: Partial<Omit<PlannedPeak, 'id' | 'start' | 'end'>> = {},
): PlannedPeak {
  return {
    id,
    apex: (start + end) / 2,
    start,
    end,
    startKind: 'by hand',
    endKind: 'by hand',
    direction: 'up',
    baseline: 'run',
    decisions: [],
    ...more,
  };
}

/** A plan of one region that holds the given peaks. */
export function planOf(peaks: readonly PlannedPeak[], ...baselines: readonly Baseline[]): IntegrationPlan {
  return { baselines, regions: [{ start: peaks[0]!.start, end: peaks.at(-1)!.end, peaks }] };
}

/** A candidate that reaches from one time to another; back at the baseline on both sides unless said otherwise. */
export function candidate(apex: number, sigma: number, more: Partial<Candidate> = {}): Candidate {
  const height = more.height ?? 100;
  return {
    apex,
    sigma,
    height,
    significance: 100,
    direction: height < 0 ? 'down' : 'up',
    from: apex - 4 * sigma,
    to: apex + 4 * sigma,
    fromKind: 'baseline',
    toKind: 'baseline',
    ...more,
  };
}
