import { describe, expect, test } from 'vitest';
import { analyse, createWorkspace, simulateTrace, type Baseline } from '../../src/index.js';
import { vanillaRun, withSignal } from '../support/runs.js';

const seeds = Array.from({ length: 30 }, (_, i) => i + 1);
const workspace = createWorkspace();

/** Straight between knots. */
function at({ time }: Baseline, values: readonly number[], t: number): number {
  const i = time.findIndex((knot) => knot > t);
  return values[i - 1]! + ((values[i]! - values[i - 1]!) * (t - time[i - 1]!)) / (time[i]! - time[i - 1]!);
}

describe('a step of the level', () => {
  test('between the peaks is named, is no peak, and leaves both areas within 2 %', () => {
    for (const seed of seeds) {
      const stepped = withSignal(
        simulateTrace({
          duration: 10,
          interval: 0.4,
          baseline: { offset: 2, drift: 10 },
          noise: { white: 0.3 },
          seed,
          peaks: [3, 6].map((retentionTime) => ({
            shape: 'gaussian' as const,
            retentionTime,
            height: 100,
            sigma: 0.05,
          })),
        }).trace,
        (y, i) => y + (i > 675 ? 20 : 0),
      );
      const { peaks, disturbances } = analyse(stepped);
      expect(peaks.map((p) => p.retentionTime.toFixed(1))).toEqual(['3.0', '6.0']);
      expect(disturbances.map((d) => d.kind)).toEqual(['step']);
      for (const p of peaks)
        expect(Math.abs(p.area / (60 * 100 * 0.05 * Math.sqrt(2 * Math.PI)) - 1)).toBeLessThan(0.02);
    }
  });

  test('bends the baseline where the level steps, within a knot of it, and nowhere else', () => {
    for (const seed of seeds.slice(0, 20)) {
      const trace = vanillaRun(seed);
      const stepped = withSignal(trace, (y, i) => y + (trace.time[i]! > 7.8 ? 10 : 0));
      const { baseline, disturbances } = analyse(stepped, {}, workspace);
      expect(disturbances.map((d) => d.kind)).toEqual(['step']);
      expect(Math.abs(disturbances[0]!.at - 7.8)).toBeLessThan(0.02);
      for (const [t, level] of [
        [7.6, 3 + 0.76],
        [8, 13 + 0.8],
        [5.5, 3 + 0.55],
        [11, 13 + 1.1],
      ] as const) {
        expect(Math.abs(at(baseline, baseline.value, t) - level)).toBeLessThan(0.1);
      }
    }
  });
});
