import { describe, expect, test } from 'vitest';
import {
  analyse,
  createTrace,
  estimateNoise,
  simulateTrace,
  type NoiseRecipe,
  type Trace,
} from '../../../src/index.js';

const seeds = [1, 2, 3, 4, 5, 6, 7, 8];

/** Twenty minutes with six peaks over a fifth of them, on a drift. */
const run = (noise: NoiseRecipe, seed: number): Trace =>
  simulateTrace({
    duration: 20,
    interval: 0.2,
    baseline: { offset: 3, drift: 20 },
    noise,
    seed,
    peaks: [2, 5, 8, 11, 14, 17].map((retentionTime) => ({
      shape: 'emg',
      retentionTime,
      height: 100,
      sigma: 0.06,
      tau: 0.03,
    })),
  }).trace;

/** Noise whose neighbours have the correlation r: first-order autoregressive, of standard deviation 0.1. */
const correlated = (r: number): NoiseRecipe => ({
  correlated: { standardDeviation: 0.1, timeConstant: -0.2 / Math.log(r) },
});

describe('the noise of an analysis', () => {
  test.each([
    ['white', { white: 0.1 }, 0, 0.1],
    ['correlated by 0.5', correlated(0.5), 0.5, 0.1],
    ['correlated by 0.9', correlated(0.9), 0.9, 0.2],
  ] as const)('that is %s has its standard deviation and correlation beside the peaks', (_, noise, r, tolerance) => {
    for (const seed of seeds) {
      const { standardDeviation, correlation } = analyse(run(noise, seed)).noise;
      expect(Math.abs(standardDeviation / 0.1 - 1)).toBeLessThan(tolerance);
      expect(Math.abs(correlation - r)).toBeLessThan(0.1);
    }
  });

  test('is that of estimateNoise, on an uneven axis and across a gap too', () => {
    const even = run({ white: 0.1 }, 3);
    const jittered = even.time.map((t, i) => t + 0.001 * Math.sin(7 * i));
    const kept = Array.from(even.time.keys()).filter((i) => even.time[i]! < 9 || even.time[i]! > 10.5);
    const gappy = createTrace({
      time: kept.map((i) => even.time[i]!),
      signal: kept.map((i) => even.signal[i]!),
      timeUnit: 'min',
      signalUnit: 'mAU',
    });
    for (const trace of [even, { ...even, time: jittered }, gappy]) {
      const { peakToPeak, ...noise } = estimateNoise(trace);
      expect(peakToPeak).toBeDefined();
      expect(analyse(trace).noise).toStrictEqual(noise);
    }
  });
});
