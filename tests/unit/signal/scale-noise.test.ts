import { describe, expect, test } from 'vitest';
import { createWorkspace, simulateTrace, type NoiseRecipe, type PeakRecipe, type Trace } from '../../../src/index.js';
import { buildPyramid, layDecisionGrid, noiseAt, scanNoise, type ScaleNoise } from '../../../src/signal/index.js';
import { traceAt } from '../../support/traces.js';

/** Curvature of white noise over its standard deviation: 1 + 1/4 + 1/4 under the root. */
const curvature = Math.sqrt(1.5);

function scan(trace: Trace): ScaleNoise {
  const workspace = createWorkspace();
  return scanNoise(buildPyramid(layDecisionGrid(trace, workspace), workspace), workspace);
}

function record(samples: number, noise: NoiseRecipe, seed: number, peaks: readonly PeakRecipe[] = []): Trace {
  return simulateTrace({ duration: (samples - 1) / 300, interval: 0.2, noise, seed, peaks }).trace;
}

/** Mean over seeds of what a recipe of noise gives at a level, over the standard deviation of the samples. */
function meanOver(seeds: number, level: number, make: (seed: number) => Trace): number {
  let sum = 0;
  for (let seed = 1; seed <= seeds; seed++) sum += scan(make(seed)).level[level]!;
  return sum / seeds;
}

describe('the noise by coarseness', () => {
  test.each([2_000, 10_000, 50_000])('of white noise in %d samples is right within 10 %% at every coarseness', (n) => {
    for (const level of [0, 1, 2, 3, 4]) {
      const expected = (curvature * 0.5) / Math.sqrt(2 ** level);
      const mean = meanOver(12, level, (seed) => record(n, { white: 0.5 }, seed));
      expect(Math.abs(mean / expected - 1), `level ${level}: ${mean / expected}`).toBeLessThan(0.1);
    }
  });

  test('of correlated noise is what the means of that noise really do', () => {
    // AR(1) of coefficient r: covariances r^|k|, so the curvature of means of m follows by summing them.
    const timeConstant = 1;
    const r = Math.exp(-0.2 / timeConstant);
    const curvatureOf = (m: number): number => {
      const weights = Array.from({ length: 3 * m }, (_, i) => (i >= m && i < 2 * m ? 1 : -0.5) / m);
      let sum = 0;
      weights.forEach((a, i) => weights.forEach((b, j) => (sum += a * b * r ** Math.abs(i - j))));
      return Math.sqrt(sum);
    };
    for (const level of [0, 1, 2, 3, 4, 5]) {
      const make = (seed: number): Trace =>
        record(20_000, { correlated: { standardDeviation: 1, timeConstant } }, seed);
      const ratio = meanOver(12, level, make) / curvatureOf(2 ** level);
      // Windows of correlated noise scatter more than those of white noise, for which the quantiles were set.
      expect(Math.abs(ratio - 1), `level ${level}: ${ratio}`).toBeLessThan(0.15);
    }
  });

  test('is right within 20 % when half of the run is covered by peaks', () => {
    // Every 3 min; out to 4.5 sigma they bend by more than the noise of eight samples, which is half of it.
    const peaks: PeakRecipe[] = Array.from({ length: 16 }, (_, i) => ({
      shape: 'gaussian',
      retentionTime: 1.5 + 3 * i,
      height: 50 * (1 + (i % 3)),
      sigma: 0.17,
    }));
    for (const level of [0, 1, 2, 3]) {
      const expected = (curvature * 0.5) / Math.sqrt(2 ** level);
      const mean = meanOver(10, level, (seed) => record(14_400, { white: 0.5 }, seed, peaks));
      expect(Math.abs(mean / expected - 1), `level ${level}: ${mean / expected}`).toBeLessThan(0.2);
    }
  });

  test('of quantised readings is never below what rounding alone does, and the step is found', () => {
    const baseline = { drift: 6 };
    const { trace } = simulateTrace({
      duration: 20,
      interval: 0.2,
      baseline,
      noise: { white: 0.05 },
      seed: 5,
      step: 0.5,
    });
    const noise = scan(trace);
    expect(noise.quantum).toBeCloseTo(0.5, 9);
    expect(noise.level[0]).toBeGreaterThan(0.1);
    expect(scan(record(6_000, { white: 0.05 }, 5)).quantum).toBe(0);
  });

  test('does not see a straight drift', () => {
    const time = Array.from({ length: 4_000 }, (_, i) => i / 300);
    const { signal } = record(4_000, { white: 0.5 }, 3);
    const flat = scan(traceAt(time, (i) => signal[i]!));
    const steep = scan(traceAt(time, (i) => signal[i]! + 64 * i));
    flat.level.forEach((v, l) => {
      expect(steep.level[l]! / v).toBeCloseTo(1, 9);
    });
  });

  test('is local: twice as large where the run is twice as noisy, with a gradual change between', () => {
    const quiet = record(20_000, { white: 0.5 }, 7);
    const trace = traceAt(quiet.time, (i) => quiet.signal[i]! * (i < 10_000 ? 1 : 2));
    const noise = scan(trace);
    expect(noiseAt(noise, 0, 0.1) / (0.5 * curvature)).toBeCloseTo(1, 0);
    const [early, middle, late] = [0.2, 0.5, 0.8].map((place) => noiseAt(noise, 0, place));
    expect(late! / early!).toBeGreaterThan(1.7);
    expect(late! / early!).toBeLessThan(2.3);
    expect(middle).toBeGreaterThan(early!);
    expect(middle).toBeLessThan(late!);
    expect(noiseAt(noise, 0, -5)).toBe(noiseAt(noise, 0, 0));
    expect(noiseAt(noise, 99, 7)).toBe(noiseAt(noise, noise.level.length - 1, 1));
  });
});
