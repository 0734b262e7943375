import { describe, expect, test } from 'vitest';
import { analyse, simulateTrace, type PeakRecipe, type Trace } from '../../../src/index.js';

const run = (seed: number, peaks: readonly PeakRecipe[]): Trace =>
  simulateTrace({ duration: 10, interval: 0.2, seed, noise: { white: 0.02 }, baseline: { offset: 1, drift: 3 }, peaks })
    .trace;
const seeds = [1, 2, 3, 4, 5];
const main: PeakRecipe = { shape: 'emg', retentionTime: 5, height: 100, sigma: 0.08, tau: 0.02 };

describe('a shoulder', () => {
  test.each([
    ['behind', 5.22],
    ['in front', 4.78],
  ])('%s is reported with its place, not separated without a fit, and told to its peak', (_, retentionTime) => {
    for (const seed of seeds) {
      const hidden: PeakRecipe = { shape: 'gaussian', retentionTime, height: 14, sigma: 0.06 };
      const { peaks, rejected } = analyse(run(seed, [main, hidden]), { divider: 'drop line' });
      expect(peaks).toHaveLength(1);
      const shoulders = rejected.filter((r) => r.test === 'a maximum of its own');
      expect(shoulders).toHaveLength(1);
      expect(Math.abs(shoulders[0]!.at - retentionTime)).toBeLessThan(0.07);
      expect(peaks[0]!.warnings.map((w) => w.code)).toContain('peak-with-shoulder');
    }
  });

  test.each([
    ['behind', 5.22],
    ['in front', 4.78],
  ])('%s becomes a peak of its own when a fit shows that no single shape will do', (_, retentionTime) => {
    for (const seed of seeds) {
      const hidden: PeakRecipe = { shape: 'gaussian', retentionTime, height: 14, sigma: 0.06 };
      const { peaks, rejected } = analyse(run(seed, [main, hidden]));
      expect(peaks).toHaveLength(2);
      const own = peaks[retentionTime > 5 ? 1 : 0]!;
      expect(Math.abs(own.retentionTime - retentionTime)).toBeLessThan(0.03);
      expect(Math.abs(own.area / (60 * 14 * 0.06 * Math.sqrt(2 * Math.PI)) - 1)).toBeLessThan(0.35);
      expect(rejected.filter((r) => r.test === 'a maximum of its own')).toEqual([]);
    }
  });

  test('is not seen on a single peak, however it tails or fronts', () => {
    for (const seed of seeds) {
      for (const tau of [-0.2, -0.08, 0, 0.08, 0.2, 0.4]) {
        const { rejected } = analyse(run(seed, [{ ...main, tau }]));
        expect(rejected.filter((r) => r.test === 'a maximum of its own')).toEqual([]);
      }
    }
  });

  test('is not what a visible neighbour is', () => {
    const near: PeakRecipe = { shape: 'gaussian', retentionTime: 5.4, height: 50, sigma: 0.08 };
    const { peaks, rejected } = analyse(run(1, [main, near]));
    expect(peaks).toHaveLength(2);
    expect(rejected.filter((r) => r.test === 'a maximum of its own')).toEqual([]);
  });
});
