import { describe, expect, test } from 'vitest';
import { analyse, createWorkspace, simulateTrace, type PeakRecipe } from '../../src/index.js';
import { statistics } from '../support/statistics.js';
import { repeatableNumbers } from '../support/traces.js';

const seeds = Array.from({ length: 60 }, (_, i) => i + 1);
const workspace = createWorkspace();
const noise = 0.05;

/**
 * Twelve peaks whose heights run over three decades, from a signal-to-noise ratio of 20 (2H/h, h six standard
 * deviations) up, whose widths grow with time, each at least the given resolution from the one before.
 */
function crowd(seed: number, resolution: number, downShare: number): PeakRecipe[] {
  const random = repeatableNumbers(1000 * seed + 17);
  const peaks: PeakRecipe[] = [];
  for (let t = 1.5; peaks.length < 12;) {
    const sigma = 0.02 + 0.004 * t;
    // The first points up: a dip with which a run begins is the solvent's.
    const sign = peaks.length > 0 && random() < downShare ? -1 : 1;
    peaks.push({
      shape: 'emg',
      retentionTime: t,
      height: sign * 60 * noise * 10 ** (3 * random()),
      sigma,
      tau: 0.3 * sigma * random(),
    });
    t += 4 * sigma * resolution * (1 + 2 * random());
  }
  return peaks;
}

/** Peaks found and missed in all runs, what else was called a peak, and the errors of the areas [-]. */
function score(
  resolution: number,
  downShare: number,
): { true: number; found: number; false: number; errors: number[] } {
  const result = { true: 0, found: 0, false: 0, errors: [] as number[] };
  for (const seed of seeds) {
    const peaks = crowd(seed, resolution, downShare);
    const { trace, truth } = simulateTrace({
      duration: peaks.at(-1)!.retentionTime + 2,
      interval: 0.2,
      baseline: { offset: 5, drift: 6 },
      noise: { white: noise },
      seed,
      peaks,
    });
    const found = [...analyse(trace, {}, workspace).peaks];
    for (const one of truth.peaks) {
      const i = found.findIndex(
        (p) =>
          Math.abs(p.retentionTime - one.retentionTime) < 0.5 * one.sigma &&
          Math.sign(p.height) === Math.sign(one.height),
      );
      result.true++;
      if (i < 0) continue;
      result.found++;
      result.errors.push(found[i]!.area / one.area - 1);
      found.splice(i, 1);
    }
    result.false += found.length;
  }
  return result;
}

describe.each([
  ['separate, all up', 3, 0, 0.99, 0.005],
  ['separate, a third pointing down', 3, 0.33, 0.98, 0.005],
  ['close, at a resolution of 1.5 and more, all up', 1.5, 0, 0.99, 0.005],
] as const)('720 peaks, %s', (_, resolution, downShare, recall, falseShare) => {
  const result = score(resolution, downShare);
  test(`are found, ${100 * recall} % of them at least`, () => {
    expect(result.found / result.true).toBeGreaterThanOrEqual(recall);
  });
  test(`are not joined by others, ${100 * falseShare} % at most`, () => {
    expect(result.false / result.true).toBeLessThanOrEqual(falseShare);
  });
  test('have areas without bias, half of them right within 0.1 %, nine of ten within 0.5 %', () => {
    const sorted = result.errors.map(Math.abs).sort((a, b) => a - b);
    expect(sorted[sorted.length >> 1]!).toBeLessThan(0.001);
    expect(sorted[Math.floor(0.9 * sorted.length)]!).toBeLessThan(0.005);
    const middle = result.errors.filter((e) => Math.abs(e) < 0.1);
    expect(Math.abs(statistics(middle).mean)).toBeLessThan(0.001);
  });
});
