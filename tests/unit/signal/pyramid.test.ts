import { describe, expect, test } from 'vitest';
import { createWorkspace } from '../../../src/index.js';
import { buildPyramid, centreOf, indexAt, layDecisionGrid } from '../../../src/signal/index.js';
import { repeatableNormals, traceAt } from '../../support/traces.js';

const normal = repeatableNormals(1);
const readings = Float64Array.from({ length: 1003 }, () => normal());
const trace = traceAt(
  readings.map((_, i) => 2 + i / 100),
  (i) => readings[i]!,
);
const workspace = createWorkspace();
const pyramid = buildPyramid(layDecisionGrid(trace, workspace), workspace);

describe('the pyramid of means', () => {
  test('holds the readings at the bottom and means of 2, 4, 8 ... above', () => {
    expect(pyramid.levels[0]).toBe(trace.signal);
    pyramid.levels.forEach((means, level) => {
      const size = 2 ** level;
      expect(means).toHaveLength(Math.floor(1003 / size));
      for (let i = 0; i < means.length; i++) {
        let sum = 0;
        for (let k = 0; k < size; k++) sum += readings[i * size + k]!;
        expect(Math.abs(means[i]! - sum / size)).toBeLessThan(1e-14);
      }
    });
  });

  test('ends while there are still 24 means', () => {
    const counts = pyramid.levels.map((means) => means.length);
    expect(counts).toEqual([1003, 501, 250, 125, 62, 31]);
  });

  test('knows the time of the middle of each mean', () => {
    for (const [level, i] of [
      [0, 0],
      [0, 1002],
      [1, 10],
      [5, 30],
    ] as const) {
      const size = 2 ** level;
      const times = trace.time.subarray(i * size, (i + 1) * size);
      expect(centreOf(pyramid, level, i)).toBeCloseTo((times[0]! + times.at(-1)!) / 2, 12);
    }
  });

  test('finds the mean that covers a time, and the first or the last beyond the ends', () => {
    pyramid.levels.forEach((means, level) => {
      for (let i = 0; i < means.length; i++) {
        expect(indexAt(pyramid, level, centreOf(pyramid, level, i) + 1e-6)).toBe(i);
      }
      expect(indexAt(pyramid, level, -100)).toBe(0);
      expect(indexAt(pyramid, level, 100)).toBe(means.length - 1);
    });
  });
});
