import { describe, expect, test } from 'vitest';
import { createWorkspace, findPeaks, type Baseline } from '../../src/index.js';
import { vanillaRun } from '../support/runs.js';
import { statistics } from '../support/statistics.js';

const seeds = Array.from({ length: 100 }, (_, i) => i + 1);
const workspace = createWorkspace();

/** Straight between knots. */
function at({ time }: Baseline, values: readonly number[], t: number): number {
  const i = time.findIndex((knot) => knot > t);
  return values[i - 1]! + ((values[i]! - values[i - 1]!) * (t - time[i - 1]!)) / (time[i]! - time[i - 1]!);
}

describe('the baseline of a run on a straight drift', () => {
  const baselines = seeds.map((seed) => findPeaks(vanillaRun(seed), {}, workspace).baseline);
  const level = (t: number): number => 3 + t / 10;

  test('covers the record with knots in order', () => {
    for (const { time } of baselines) {
      expect(time[0]!).toBeLessThanOrEqual(0);
      expect(time.at(-1)!).toBeGreaterThanOrEqual(12 - 1e-9);
      time.forEach((t, i) => {
        if (i > 0) expect(t).toBeGreaterThan(time[i - 1]!);
      });
    }
  });

  // Between peaks, beneath a lone one, beneath a pair, beneath the smallest.
  test.each([1, 3, 5.5, 6.6, 8, 9, 11])('is right at %d min, and knows how right', (t) => {
    const errors = baselines.map((b) => at(b, b.value, t) - level(t));
    const { mean, error, rms } = statistics(errors);
    // Noise 0.05; the feet of the peaks, within the noise, may lift it by a tenth of that.
    expect(Math.abs(mean)).toBeLessThan(0.005 + 3 * error);
    expect(rms).toBeLessThan(0.025);
    const ratio = statistics(errors.map((e, i) => e / at(baselines[i]!, baselines[i]!.uncertainty!, t))).rms;
    // The uncertainty is that of the line once its stiffness is chosen; that the choice itself scatters is not in it.
    expect(ratio).toBeGreaterThan(0.5);
    expect(ratio).toBeLessThan(2);
  });
});

describe('the baseline under a broad peak', () => {
  test('runs straight on beneath a peak as broad as a tenth of the run', () => {
    for (const seed of seeds.slice(0, 20)) {
      const trace = vanillaRun(seed, { peaks: [{ shape: 'gaussian', retentionTime: 6, height: 200, sigma: 0.5 }] });
      const { baseline } = findPeaks(trace, {}, workspace);
      for (const t of [5, 5.5, 6, 6.5, 7])
        expect(Math.abs(at(baseline, baseline.value, t) - 3 - t / 10)).toBeLessThan(0.1);
    }
  });
});
