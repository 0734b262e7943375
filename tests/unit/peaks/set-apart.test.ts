import { describe, expect, test } from 'vitest';
import { analyse, findPeaks, simulateTrace, type Candidate, type TraceRecipe } from '../../../src/index.js';
import { setApart } from '../../../src/peaks/set-apart.js';
import { candidate } from '../../support/plans.js';

const step = 1 / 300;
const edge = (at: number, jump: number, lasting = false): { at: number; jump: number; lasting: boolean } => ({
  at,
  jump,
  lasting,
});
/** A candidate by apex and signed height, five seconds wide unless said otherwise. */
const bump = (apex: number, height: number, sigma = 0.1, more: Partial<Candidate> = {}): Candidate =>
  candidate(apex, sigma, { height, ...more });
const kinds = (candidates: readonly Candidate[], edges: ReturnType<typeof edge>[] = []): (string | undefined)[] => {
  const { candidates: peaks, apart } = setApart(candidates, edges, step, 0);
  expect([...peaks, ...apart.map((a) => a.candidate)].sort((a, b) => a.apex - b.apex)).toEqual(candidates);
  return candidates.map((c) => apart.find((a) => a.candidate === c)?.kind);
};

describe('what is set apart', () => {
  test('a bump with a sharp side is a bubble, unless it is narrow, the edge small, or a lasting step', () => {
    const peaks = [bump(4, 100), bump(6, 100), bump(8, 100)];
    expect(kinds(peaks, [edge(5.9, 60)])).toEqual([undefined, 'bubble', undefined]);
    expect(kinds(peaks, [edge(5.9, 30)])).toEqual([undefined, undefined, undefined]);
    expect(kinds(peaks, [edge(5.9, 60, true)])).toEqual([undefined, undefined, undefined]);
    expect(kinds(peaks, [edge(5, 60)])).toEqual([undefined, undefined, undefined]);
    // Every peak of two samples sigma has sharp sides.
    const narrow = [3, 5, 7].map((t) => bump(t, 100, 2 * step));
    expect(kinds(narrow, [edge(5, 60)])).toEqual([undefined, undefined, undefined]);
  });

  test('a bump far narrower than its neighbours on both sides is a spike, and needs two neighbours to be one', () => {
    expect(kinds([bump(4, 100), bump(6, 100, 0.02), bump(8, 100)])).toEqual([undefined, 'spike', undefined]);
    expect(kinds([bump(4, 100), bump(6, 100, 0.04), bump(8, 100)])).toEqual([undefined, undefined, undefined]);
    expect(kinds([bump(4, 100), bump(6, 100, 0.02)])).toEqual([undefined, undefined]);
  });

  test('an early peak may be as much narrower as it is earlier', () => {
    // Isocratic widths grow with time: a tenth of the time, a tenth of the width.
    expect(kinds([bump(1, 100, 0.02), bump(10, 100, 0.2), bump(12, 100, 0.24)])).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(kinds([bump(8, 100, 0.02), bump(10, 100, 0.2), bump(12, 100, 0.24)])).toEqual([
      'spike',
      undefined,
      undefined,
    ]);
  });

  test('a dip, or a dip and a rise, with which the run begins is the early disturbance', () => {
    const rest = [bump(5, 200), bump(7, 50)];
    expect(kinds([bump(1, -20, 0.05), ...rest])).toEqual(['early disturbance', undefined, undefined]);
    expect(kinds([bump(1, -20, 0.05), bump(1.25, 30, 0.05), ...rest])).toEqual([
      'early disturbance',
      'early disturbance',
      undefined,
      undefined,
    ]);
    expect(kinds([bump(1, 30, 0.05), bump(1.25, -20, 0.05), ...rest])).toEqual([
      'early disturbance',
      'early disturbance',
      undefined,
      undefined,
    ]);
  });

  test('a rise far larger than the dip before it is a peak', () => {
    expect(kinds([bump(1, -20, 0.05), bump(1.25, 400, 0.05), bump(5, 200)])).toEqual([
      'early disturbance',
      undefined,
      undefined,
    ]);
  });

  test('a run that begins with an upward peak, or has downward peaks later on, keeps them all', () => {
    expect(kinds([bump(1, 20), bump(5, 200), bump(7, -40)])).toEqual([undefined, undefined, undefined]);
    expect(kinds([bump(1, -20), bump(5, 200), bump(7, -40)])).toEqual([undefined, undefined, undefined]);
    expect(kinds([bump(1, -20), bump(5, -200), bump(7, -40)])).toEqual([undefined, undefined, undefined]);
    expect(kinds([])).toEqual([]);
  });

  test('never depends on time alone: the same run later is judged the same', () => {
    const run = (shift: number): Candidate[] => [
      bump(1 + shift, -20, 0.05),
      bump(1.25 + shift, 30, 0.05),
      bump(5 + shift, 200),
    ];
    expect(kinds(run(20))).toEqual(kinds(run(0)));
  });
});

describe('a disturbance in a run', () => {
  const recipe: TraceRecipe = {
    duration: 10,
    interval: 0.2,
    bumps: [
      { time: 1, height: -15, sigma: 0.03 },
      { time: 1.12, height: 12, sigma: 0.03 },
    ],
    peaks: [
      { shape: 'gaussian', retentionTime: 4, height: 50, sigma: 0.05 },
      { shape: 'gaussian', retentionTime: 6, height: 80, sigma: 0.07 },
    ],
    noise: { white: 0.05 },
    seed: 3,
  };
  const { trace } = simulateTrace(recipe);

  test('is set apart with its area and its evidence, belongs to no region, and is no peak', () => {
    const { peaks, regions, disturbances } = analyse(trace);
    expect(peaks.map((p) => p.retentionTime.toFixed(1))).toEqual(['4.0', '6.0']);
    expect(regions).toHaveLength(2);
    const early = disturbances.filter((d) => d.kind === 'early disturbance');
    expect(early.length).toBe(2);
    for (const d of early) {
      expect(Number.isFinite(d.area)).toBe(true);
      expect(Math.sign(d.area!)).toBe(Math.sign(d.height!));
      expect(d.evidence).toMatch(/before every peak/);
    }
  });

  test('is a peak in one step when the analyst says so, and leaves the others as they were', () => {
    const divider = 'drop line';
    const before = analyse(trace, { divider });
    const place = before.disturbances.find((d) => d.kind === 'early disturbance' && d.height! > 0)!;
    const after = analyse(trace, { takeAsPeak: [place.at], divider });
    expect(after.peaks).toHaveLength(3);
    expect(after.peaks[0]!.area).toBe(place.area);
    const all = analyse(trace, { disturbances: 'keep as peaks', divider });
    expect(all.peaks.map((p) => p.direction)).toEqual(['down', 'up', 'up', 'up']);
    expect(all.disturbances).toEqual([]);
    for (const kept of before.peaks) {
      expect(after.peaks.find((p) => p.id === kept.id)!.area).toBe(kept.area);
      expect(all.peaks.find((p) => p.id === kept.id)!.area).toBe(kept.area);
    }
  });

  test('a place that was not taken says which test it failed, by how much, in words', () => {
    const { rejected } = findPeaks(simulateTrace({ ...recipe, noise: { white: 4 } }).trace);
    for (const r of rejected) {
      expect(r.test).not.toBe('');
      expect(Number.isFinite(r.value) && Number.isFinite(r.limit) && Number.isFinite(r.height)).toBe(true);
      expect(r.text.length).toBeGreaterThan(20);
    }
  });
});
