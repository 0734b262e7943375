import { describe, expect, test } from 'vitest';
import { createWorkspace, type Baseline, type Interval } from '../../../src/index.js';
import { baselineAt, baselineUncertaintyAt, fitBaseline } from '../../../src/baseline/index.js';
import { buildPyramid, layDecisionGrid, scanNoise } from '../../../src/signal/index.js';
import { repeatableNormals, traceAt } from '../../support/traces.js';

const time = Array.from({ length: 3001 }, (_, i) => i / 300);
/** [min] Width of the peaks the baseline is laid for, and the sharpest bend it may have. */
const width = 0.05;
const bend = 0.2;

function laid(
  signal: (t: number, i: number) => number,
  avoid: readonly Interval[] = [],
  breaks: number[] = [],
): Baseline {
  const workspace = createWorkspace();
  const trace = traceAt(time, (i) => signal(time[i]!, i));
  const pyramid = buildPyramid(layDecisionGrid(trace, workspace), workspace);
  return fitBaseline(pyramid, scanNoise(pyramid, workspace), avoid, breaks, width, bend, workspace).baseline;
}

const normals = repeatableNormals(9);
const noise = Float64Array.from({ length: time.length }, () => 0.1 * normals());
const peak = (t: number, at: number, height: number): number => height * Math.exp(-0.5 * ((t - at) / 0.05) ** 2);
const off = (baseline: Baseline, level: (t: number) => number, times: readonly number[]): number =>
  Math.max(...times.map((t) => Math.abs(baselineAt(baseline, t) - level(t))));
const everywhere = Array.from({ length: 101 }, (_, i) => i / 10);

describe('the baseline through what is free', () => {
  test('is the straight line itself where there is nothing else, from end to end, and beneath what is avoided', () => {
    const line = (t: number): number => 2 - 3 * t;
    expect(off(laid(line), line, everywhere)).toBeLessThan(1e-9);
    expect(off(laid(line, [{ from: 3, to: 6 }]), line, everywhere)).toBeLessThan(1e-9);
    expect(off(laid(line, [{ from: 0, to: 2 }]), line, everywhere)).toBeLessThan(1e-9);
  });

  test('gives what is avoided no say at all', () => {
    const avoid = [{ from: 4.7, to: 5.3 }];
    const one = laid((t, i) => noise[i]! + t + peak(t, 5, 100), avoid);
    const other = laid((t, i) => noise[i]! + t - peak(t, 5, 60), avoid);
    expect(other.time).toEqual(one.time);
    // The noise is measured on the whole record, and a few windows of it fall on the peak.
    expect(off(other, (t) => baselineAt(one, t), everywhere)).toBeLessThan(1e-3);
  });

  test('is within the noise of a few blocks of the truth, and says how well it is known', () => {
    const baseline = laid((t, i) => noise[i]! + t + peak(t, 5, 100), [{ from: 4.7, to: 5.3 }]);
    // A block of 16 readings has 0.025; the line is through many.
    expect(off(baseline, (t) => t, everywhere)).toBeLessThan(0.05);
    for (const t of everywhere) expect(baselineUncertaintyAt(baseline, t)).toBeGreaterThan(0);
    expect(baselineUncertaintyAt(baseline, 5)).toBeLessThan(0.05);
  });

  test('is less certain in the middle of a long stretch that is avoided than beside it', () => {
    const curved = (t: number, i: number): number => noise[i]! + 5 * Math.sin(t);
    const baseline = laid(curved, [{ from: 4, to: 6 }]);
    expect(baselineUncertaintyAt(baseline, 5)).toBeGreaterThan(2 * baselineUncertaintyAt(baseline, 3));
  });

  test('follows a slow wave, and the end of a gradient that is sharper than the rest', () => {
    const wave = (t: number): number => 5 * Math.sin(t);
    expect(
      off(
        laid((t, i) => noise[i]! + wave(t)),
        wave,
        everywhere.slice(1, -1),
      ),
    ).toBeLessThan(0.15);
    const gradient = (t: number): number => 30 * Math.min(Math.max(t - 4, 0), 2);
    const away = everywhere.filter((t) => Math.abs(t - 4) > 0.35 && Math.abs(t - 6) > 0.35);
    expect(
      off(
        laid((t, i) => noise[i]! + gradient(t)),
        gradient,
        away,
      ),
    ).toBeLessThan(0.4);
  });

  test('is moved by a peak that nobody told it of only where the peak stands', () => {
    const baseline = laid((t, i) => noise[i]! + t + peak(t, 5, 100));
    // Four standard deviations away there is nothing of the peak left.
    expect(off(baseline, (t) => t, [4, 4.5, 4.7, 5.3, 5.5, 6])).toBeLessThan(0.15);
  });

  test('steps where it may, at once, and bends there where it may not', () => {
    const step = (t: number): number => (t > 5 ? 20 : 0);
    const sides = everywhere.filter((t) => t !== 5);
    const broken = laid((t, i) => noise[i]! + step(t), [], [5]);
    expect(off(broken, step, sides)).toBeLessThan(0.1);
    const whole = laid((t, i) => noise[i]! + step(t));
    expect(off(whole, step, [4.95, 5.05])).toBeGreaterThan(2);
  });

  test('has knots in order that cover the record, with finite levels, even when everything is avoided', () => {
    for (const avoid of [[], [{ from: -1, to: 11 }], [{ from: 1, to: 11 }]]) {
      const { time: knots, value, uncertainty } = laid((t, i) => noise[i]! + t, avoid);
      expect(knots[0]!).toBeLessThanOrEqual(0);
      expect(knots.at(-1)!).toBeGreaterThanOrEqual(10 - 1e-9);
      knots.forEach((t, i) => {
        if (i > 0) expect(t).toBeGreaterThan(knots[i - 1]!);
      });
      expect([...value, ...uncertainty!].every(Number.isFinite)).toBe(true);
    }
  });
});
