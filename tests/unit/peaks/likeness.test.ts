import { describe, expect, test } from 'vitest';
import { createWorkspace } from '../../../src/numeric/index.js';
import { likeness } from '../../../src/peaks/likeness.js';
import { buildPyramid, layDecisionGrid, scanNoise } from '../../../src/signal/index.js';
import { simulateTrace, type TraceRecipe } from '../../../src/index.js';

function likenessAt(at: number, sigma: number, recipe: Partial<TraceRecipe>): number {
  const workspace = createWorkspace();
  const { trace } = simulateTrace({ duration: 10, interval: 0.2, noise: { white: 0.02 }, seed: 3, ...recipe });
  const pyramid = buildPyramid(layDecisionGrid(trace, workspace), workspace);
  const look = { at, sign: 1, sigma, before: true, after: true } as const;
  return likeness(look, pyramid, scanNoise(pyramid, workspace), Infinity)!;
}
const peak = { shape: 'gaussian', retentionTime: 5, height: 1, sigma: 0.1 } as const;

describe('likeness to a peak', () => {
  test('is the same on a level, on a slope without a maximum, and on a slope that bends', () => {
    const level = likenessAt(5, 0.1, { peaks: [peak] });
    // A Gaussian falls by 0.61 of its height in a standard deviation at the most: 10 a minute is steeper than 6.1.
    const slope = likenessAt(5, 0.1, { peaks: [peak], baseline: { drift: 600 } });
    expect(level).toBeGreaterThan(10);
    expect(slope).toBeCloseTo(level, 6);
  });

  test('is that of noise where a gradient ends, rising or falling, however far the signal stands off a straight line', () => {
    for (const rise of [25, -25]) {
      const ramps = [{ from: 2, to: 5, rise, rounding: 0.1 }];
      expect(likenessAt(5, 0.1, { baseline: { ramps } })).toBeLessThan(1);
    }
  });
});
