import { describe, expect, test } from 'vitest';
import { createWorkspace } from '../../src/numeric/index.js';
import { alarmsOf, chanceOf } from '../../src/peaks/index.js';
import { buildPyramid, layDecisionGrid, scanNoise } from '../../src/signal/index.js';
import { findPeaks, simulateTrace, type NoiseRecipe } from '../../src/index.js';

const runs = 250;
const kinds: readonly (readonly [string, NoiseRecipe])[] = [
  ['white noise', { white: 1 }],
  ['noise correlated over 1 s in white noise', { white: 0.3, correlated: { standardDeviation: 1, timeConstant: 1 } }],
];
const blank = (noise: NoiseRecipe, seed: number) => simulateTrace({ duration: 10, interval: 0.2, noise, seed }).trace;

describe('the false-alarm rate that is stated is the one that blanks show', () => {
  // How often normal noise goes beyond a level at so many places is known; what is tested is the noise that was measured.
  test.each(kinds)('at the places and widths that are looked at, in %s', (_, noise) => {
    const workspace = createWorkspace();
    const limits = [0.1, 0.3, 1];
    const seen = limits.map(() => 0);
    for (let seed = 1; seed <= runs; seed++) {
      const pyramid = buildPyramid(layDecisionGrid(blank(noise, seed), workspace), workspace);
      const chance = chanceOf(pyramid, scanNoise(pyramid, workspace), 0);
      for (let level = chance.finest; level < pyramid.levels.length; level++) {
        const m = pyramid.levels[level]!;
        for (let i = 1; i + 1 < m.length; i++) {
          const significance = Math.abs(m[i]! - 0.5 * (m[i - 1]! + m[i + 1]!)) / chance.scatter[level]!;
          if (significance < 3) continue;
          const rate = alarmsOf(significance, chance);
          limits.forEach((limit, k) => (seen[k]! += rate <= limit ? 1 : 0));
        }
      }
    }
    // Poisson scatter of three standard deviations, and a quarter for what 3 000 readings leave open of the noise.
    limits.forEach((limit, k) => {
      const expected = limit * runs;
      expect(seen[k]).toBeGreaterThan(0.75 * expected - 3 * Math.sqrt(expected));
      expect(seen[k]).toBeLessThan(1.25 * expected + 3 * Math.sqrt(expected));
    });
  });

  // One bump may stand out at several widths, so that there are fewer bumps than that.
  test.each(kinds)('and is not exceeded by what is found, rejected and offered, in %s', (_, noise) => {
    let offered = 0;
    let found = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const { candidates, rejected } = findPeaks(blank(noise, seed));
      found += candidates.length;
      offered += rejected.filter(({ falseAlarms = 1 }) => falseAlarms <= 0.1).length;
    }
    expect(found).toBeLessThanOrEqual(1);
    expect(offered).toBeGreaterThan(0);
    expect(offered).toBeLessThanOrEqual(0.1 * runs + 3 * Math.sqrt(0.1 * runs));
  });
});
