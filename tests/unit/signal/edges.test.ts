import { describe, expect, test } from 'vitest';
import { createWorkspace } from '../../../src/index.js';
import { buildPyramid, findEdges, layDecisionGrid, scanNoise, type Edge } from '../../../src/signal/index.js';
import { repeatableNormals, traceAt } from '../../support/traces.js';

const time = Array.from({ length: 6_000 }, (_, i) => i / 300);

function edges(seed: number, add: (i: number) => number, width = 1): Edge[] {
  const normal = repeatableNormals(seed);
  const trace = traceAt(time, (i) => normal() + add(i));
  const workspace = createWorkspace();
  const grid = layDecisionGrid(trace, workspace);
  return findEdges(grid, scanNoise(buildPyramid(grid, workspace), workspace), width);
}

describe('edges', () => {
  test.each([50, -50, 2000])('a level that changes by %d and stays is one lasting edge', (jump) => {
    for (let seed = 1; seed <= 10; seed++) {
      const found = edges(seed, (i) => (i >= 3000 ? jump : 0));
      expect(found).toHaveLength(1);
      expect(found[0]!.lasting).toBe(true);
      // Within three points and the noise of two.
      expect(Math.abs(found[0]!.at - 10)).toBeLessThan(3 / 300);
      expect(Math.abs(found[0]!.jump - jump)).toBeLessThan(6);
    }
  });

  test('the two sides of a bubble do not last', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const found = edges(seed, (i) => (i >= 3000 && i < 3060 ? 300 : 0));
      expect(found.map((e) => Math.sign(e.jump))).toEqual([1, -1]);
      expect(found.map((e) => e.lasting)).toEqual([false, false]);
    }
  });

  test('a bubble longer than the stretches looked at is still undone by its other side', () => {
    // Stretches of 150 samples on either side: each side of the bubble alone looks like a lasting step.
    const found = edges(5, (i) => (i >= 3000 && i < 3450 ? 300 : 0), 0.5);
    expect(found.map((e) => e.lasting)).toEqual([false, false]);
    const steps = edges(5, (i) => (i >= 3000 && i < 3800 ? 300 : 0), 0.5);
    expect(steps.map((e) => e.lasting)).toEqual([true, true]);
  });

  test('a sharp side that decays back does not last', () => {
    const found = edges(2, (i) => (i >= 3000 ? 300 * Math.exp(-(i - 3000) / 40) : 0));
    expect(found.length).toBeGreaterThan(0);
    expect(found.every((e) => !e.lasting)).toBe(true);
  });

  test('a step with a peak after it is still a lasting one', () => {
    const found = edges(3, (i) => (i >= 3000 ? 100 : 0) + 400 * Math.exp(-0.5 * ((i - 3100) / 12) ** 2));
    expect(found.filter((e) => e.lasting)).toHaveLength(1);
  });

  test('there are none in noise, in drift, or on peaks from eight samples at half height on', () => {
    for (let seed = 1; seed <= 10; seed++) expect(edges(seed, (i) => 0.05 * i)).toEqual([]);
    for (const sigma of [8 / 2.355, 6, 12, 60]) {
      for (const height of [40, 1000, 1e5]) {
        expect(edges(4, (i) => height * Math.exp(-0.5 * ((i - 3000) / sigma) ** 2))).toEqual([]);
      }
    }
  });
});
