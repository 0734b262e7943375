import { describe, expect, test } from 'vitest';
import { createWorkspace } from '../../../src/index.js';
import { layDecisionGrid } from '../../../src/signal/index.js';
import { expectClose } from '../../support/close.js';
import { repeatableNumbers, traceAt } from '../../support/traces.js';

const grid = (time: ArrayLike<number>, signal: (t: number) => number) =>
  layDecisionGrid(
    traceAt(time, (i) => signal(time[i]!)),
    createWorkspace(),
  );

describe('the grid for deciding', () => {
  test('of an evenly sampled record is the record itself, not a copy', () => {
    const trace = traceAt(
      Array.from({ length: 100 }, (_, i) => 0.1 + i / 300),
      (i) => i,
    );
    const laid = layDecisionGrid(trace, createWorkspace());
    expect(laid.values).toBe(trace.signal);
    expect(laid).toMatchObject({ start: 0.1, count: 100, resampled: false });
    expect(laid.step).toBeCloseTo(1 / 300, 12);
  });

  test('takes times printed with few digits for even', () => {
    // Every 0.2 s to five digits of a minute: off by at most 5e-6 of 0.0033 min.
    const time = Array.from({ length: 3000 }, (_, i) => Number((i / 300).toFixed(5)));
    expect(grid(time, (t) => t).resampled).toBe(false);
  });

  test('gives a cubic polynomial back from an uneven axis', () => {
    const random = repeatableNumbers(3);
    const time = Array.from({ length: 400 }, (_, i) => (i + 0.6 * random()) / 50);
    const cubic = (t: number): number => 2 - t + 0.5 * t * t - 0.05 * t * t * t;
    const { start, step, count, values, resampled } = grid(time, cubic);
    expect(resampled).toBe(true);
    const expected = Float64Array.from({ length: count }, (_, i) => cubic(start + i * step));
    const inside = (a: ArrayLike<number>): number[] => Array.from(a).filter((_, i) => i > 2 && i < count - 4);
    expectClose(inside(values), inside(expected), 1e-11);
    // Straight in the first and the last interval: within the bend over one interval.
    expectClose(values, expected, 1e-3);
  });

  test('covers the record from its first sample and stays inside it', () => {
    const random = repeatableNumbers(4);
    const time = Array.from({ length: 333 }, (_, i) => 1 + (i + 0.6 * random()) / 50);
    const { start, step, count } = grid(time, (t) => t);
    expect(start).toBe(time[0]);
    const end = start + (count - 1) * step;
    expect(end).toBeLessThanOrEqual(time.at(-1)! + 1e-9 * step);
    expect(end).toBeGreaterThan(time.at(-1)! - 1.001 * step);
  });

  test('of two sampling rates keeps the denser, wherever it is', () => {
    const dense = Array.from({ length: 400 }, (_, i) => i * 0.005);
    const coarse = Array.from({ length: 400 }, (_, i) => 2 + i * 0.02);
    const late = [...dense.map((t) => t), ...coarse];
    const early = late.map((t) => 10 - t).reverse();
    for (const time of [late, early]) {
      const { step, coarseness } = grid(time, (t) => t);
      expect(step).toBeCloseTo(0.005, 9);
      const [dense8, coarse8] = time === late ? [coarseness[0]!, coarseness[7]!] : [coarseness[7]!, coarseness[0]!];
      expect(dense8).toBeLessThan(1.1);
      // Four grid points for one sample.
      expect(coarse8).toBeGreaterThan(3.6);
      expect(coarse8).toBeLessThan(4.4);
    }
  });

  test('never has more than four times as many points as the record, whatever its shortest interval', () => {
    const time = Array.from({ length: 500 }, (_, i) => (i < 100 ? i * 1e-6 : 0.1 + (i - 100) * 0.1));
    expect(grid(time, (t) => t).count).toBeLessThanOrEqual(2001);
  });

  test('runs straight over a gap, without a swing', () => {
    const time = Array.from({ length: 200 }, (_, i) => i + (i > 100 ? 40 : 0) + 0.1 * Math.sin(i * i));
    const { start, step, count, values } = grid(time, (t) => (t < 101 ? t * t : 200 * t));
    const [a, b] = [time[100]!, time[101]!];
    for (let i = 0; i < count; i++) {
      const t = start + i * step;
      if (t > a && t < b) {
        expect(values[i]! / (a * a + ((200 * b - a * a) * (t - a)) / (b - a))).toBeCloseTo(1, 9);
      }
    }
  });
});
