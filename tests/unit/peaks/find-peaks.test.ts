import { describe, expect, test } from 'vitest';
import { analyse, createWorkspace, findPeaks, simulateTrace, type FindPeaksOptions } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { vanillaRun, withSignal } from '../../support/runs.js';
import { traceOf } from '../../support/traces.js';

const gaussian = (i: number, at: number, sigma: number): number => Math.exp(-0.5 * ((i - at) / sigma) ** 2);

describe('findPeaks', () => {
  test('gives place, width, height and reach of each peak as it saw them', () => {
    const { candidates } = findPeaks(vanillaRun(1));
    const truth = [
      [3, 40],
      [4.6, 12],
      [6.5, 300],
      [6.75, 90],
      [9, 3],
    ] as const;
    expect(candidates).toHaveLength(5);
    candidates.forEach((c, i) => {
      const [time, height] = truth[i]!;
      // Seen through means of a fifth of the width: half of one either way, and what averaging takes off the top.
      expect(Math.abs(c.apex - time)).toBeLessThan(0.03);
      expect(Math.abs(c.height / height - 1)).toBeLessThan(0.1);
      expect(c.sigma).toBeGreaterThan(0.03);
      expect(c.sigma).toBeLessThan(0.09);
      expect(c.direction).toBe('up');
      expect(c.from).toBeLessThan(c.apex);
      expect(c.to).toBeGreaterThan(c.apex);
      expect(c.significance).toBeGreaterThan(8);
    });
    expect(candidates[2]!.toKind).toBe('neighbour');
    expect(candidates[0]!.fromKind).toBe('baseline');
  });

  test.each([1, 2, 3, 4, 7])('takes a top of %d equal readings for one peak', (equal) => {
    const half = (equal - 1) / 2;
    const top = (i: number): number => Math.max(0, Math.abs(i - 300 - half) - half);
    const trace = traceOf(600, (i) => 100 * gaussian(top(i), 0, 10));
    expect(new Set(trace.signal.slice(300, 300 + equal)).size).toBe(1);
    expect(findPeaks(trace).candidates).toHaveLength(1);
    expect(analyse(trace).peaks).toHaveLength(1);
    expect(Math.abs(analyse(trace).peaks[0]!.retentionTime - (300 + half))).toBeLessThan(0.6);
  });

  test('finds a shallow valley between two peaks where the noise is small, and not where it is not', () => {
    const pair = (noise: number) =>
      simulateTrace({
        duration: 10,
        interval: 0.4,
        peaks: [
          { shape: 'gaussian', retentionTime: 5, height: 100, sigma: 0.05 },
          { shape: 'gaussian', retentionTime: 5.12, height: 100, sigma: 0.05 },
        ],
        noise: { white: noise },
        seed: 4,
      }).trace;
    expect(findPeaks(pair(0.1)).candidates).toHaveLength(2);
    // The valley is 2.7 % deep: a height of 2.7 in noise of 10.
    expect(findPeaks(pair(10)).candidates).toHaveLength(1);
  });

  test('finds a broad peak too weak for any single reading to show', () => {
    let seen = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const { trace } = simulateTrace({
        duration: 20,
        interval: 0.1,
        peaks: [{ shape: 'gaussian', retentionTime: 10, height: 1.5, sigma: 0.25 }],
        noise: { white: 1 },
        seed,
      });
      const { candidates } = findPeaks(trace, { leastSignalToNoise: 0 });
      if (candidates.filter((c) => Math.abs(c.apex - 10) < 0.25).length === 1) seen++;
    }
    // 353 readings inside the half width: the mean of them has a noise of 0.05, the bend of three such means a little more.
    expect(seen).toBeGreaterThanOrEqual(18);
  });

  test('asks for what it is told to ask: a higher limit takes away the small ones first', () => {
    const trace = vanillaRun(1);
    const count = (options: FindPeaksOptions): number => findPeaks(trace, options).candidates.length;
    expect(count({ leastSignalToNoise: 50 })).toBe(4);
    expect(count({ leastSignalToNoise: 1e6 })).toBe(0);
    expect(count({ leastProminence: 2000 })).toBeLessThan(5);
    expect(count({ fewestPlates: 1e9 })).toBe(0);
  });

  test('says of each that was not taken which test it failed, and by how much, in order of time', () => {
    const { rejected } = findPeaks(vanillaRun(1), { leastSignalToNoise: 50 });
    expect(rejected.length).toBeGreaterThan(0);
    for (const r of rejected) {
      expect(r.limit).toBe(50);
      expect(r.value).toBeLessThan(50);
      expect(r.text).toContain(r.value.toFixed(1));
    }
    expect(rejected.map((r) => r.at)).toEqual(rejected.map((r) => r.at).sort((a, b) => a - b));
  });

  test('takes nothing that stands less above its valleys, in noise, than it is told', () => {
    const significances = (leastProminence: number): number[] =>
      [1, 2, 3, 4, 5].flatMap((seed) =>
        findPeaks(vanillaRun(seed, { noise: { white: 2 } }), { leastProminence, leastSignalToNoise: 0 }).candidates.map(
          (c) => c.significance,
        ),
      );
    for (const limit of [5, 8, 20]) expect(Math.min(...significances(limit))).toBeGreaterThanOrEqual(limit);
    expect(Math.min(...significances(5))).toBeLessThan(8);
  });

  test('finds no threshold in the height of the tallest peak', () => {
    const trace = vanillaRun(1);
    const taller = withSignal(trace, (y, i) => y + 1e5 * gaussian(trace.time[i]!, 1, 0.03));
    expect(findPeaks(taller).candidates.map((c) => c.apex.toFixed(1))).toEqual(
      ['1.0'].concat(findPeaks(trace).candidates.map((c) => c.apex.toFixed(1))),
    );
  });

  test.each<[FindPeaksOptions, string, string]>([
    [{ leastProminense: 3 } as FindPeaksOptions, 'option-unknown', 'did you mean leastProminence?'],
    [{ peekWidth: 3 } as FindPeaksOptions, 'option-unknown', 'did you mean peakWidth?'],
  ])('refuses %o', (options, code, message) => {
    const error = thrownBy(() => findPeaks(vanillaRun(1), options));
    expect(error.code).toBe(code);
    expect(error.message).toContain(message);
  });

  test('refuses a record that says nothing about noise', () => {
    expect(thrownBy(() => findPeaks(traceOf(15, (i) => i)))).toMatchObject({ code: 'trace-too-short' });
    expect(findPeaks(traceOf(16, (i) => i)).candidates).toEqual([]);
  });

  test('keeps what it gave when the workspace is used again', () => {
    const workspace = createWorkspace();
    const first = findPeaks(vanillaRun(1), {}, workspace);
    const before = structuredClone([first.candidates, first.baseline, first.settings, first.rejected]);
    findPeaks(vanillaRun(2), {}, workspace);
    expect([first.candidates, first.baseline, first.settings, first.rejected]).toEqual(before);
  });
});
