import { describe, expect, test } from 'vitest';
import { analyse, createTrace, simulateTrace, type Trace, type TraceRecipe } from '../../src/index.js';

const seeds = Array.from({ length: 30 }, (_, i) => i + 1);

const recipe = (seed: number, more: Partial<TraceRecipe> = {}): TraceRecipe => ({
  duration: 10,
  interval: 0.4,
  baseline: { offset: 2, drift: 10 },
  noise: { white: 0.3 },
  seed,
  peaks: [
    { shape: 'gaussian', retentionTime: 3, height: 100, sigma: 0.05 },
    { shape: 'gaussian', retentionTime: 6, height: 100, sigma: 0.05 },
  ],
  ...more,
});
const run = (seed: number, more: Partial<TraceRecipe> = {}): Trace => simulateTrace(recipe(seed, more)).trace;
/** [mAU s] Area of either peak. */
const area = 60 * 100 * 0.05 * Math.sqrt(2 * Math.PI);

describe('a gap', () => {
  test('in the baseline leaves the peaks as they are, and makes no other', () => {
    for (const seed of seeds) {
      const whole = run(seed);
      const kept = Array.from(whole.time.keys()).filter((i) => whole.time[i]! < 7.5 || whole.time[i]! > 9);
      const gappy = createTrace({
        time: kept.map((i) => whole.time[i]!),
        signal: kept.map((i) => whole.signal[i]!),
        timeUnit: 'min',
        signalUnit: 'mAU',
        injectedAt: 0,
      });
      const { peaks, disturbances } = analyse(gappy);
      expect(peaks.map((p) => p.retentionTime.toFixed(1))).toEqual(['3.0', '6.0']);
      expect(disturbances.map((d) => d.kind)).toEqual(['gap']);
      for (const p of peaks) expect(Math.abs(p.area / area - 1)).toBeLessThan(0.02);
    }
  });
});

describe('a blank with a gap', () => {
  test.each([0.05, 0.1, 0.3, 0.5])('over %d of it holds no peak, and knows its noise', (share) => {
    for (const seed of seeds) {
      const whole = run(seed, { peaks: [] });
      const kept = Array.from(whole.time.keys()).filter((i) => whole.time[i]! < 4 || whole.time[i]! > 4 + 10 * share);
      const { peaks, noise } = analyse(
        createTrace({
          time: kept.map((i) => whole.time[i]!),
          signal: kept.map((i) => whole.signal[i]!),
          timeUnit: 'min',
          signalUnit: 'mAU',
          injectedAt: 0,
        }),
      );
      expect(peaks).toEqual([]);
      expect(Math.abs(noise.standardDeviation / 0.3 - 1)).toBeLessThan(0.2);
    }
  });
});
