import { describe, expect, test, vi } from 'vitest';
import { createTrace, smooth, type SmoothOptions } from '../../../src/index.js';
import { expectClose } from '../../support/close.js';
import { keepsTraceContract, thrownBy } from '../../support/contracts.js';
import { traceAt, traceOf } from '../../support/traces.js';

const golay = (window: number, more: object = {}): SmoothOptions => ({ method: 'savitzky-golay', window, ...more });

keepsTraceContract('smooth by Savitzky-Golay', (trace) => smooth(trace, golay(9)));
keepsTraceContract('the slope by Savitzky-Golay', (trace) => smooth(trace, golay(9, { derivative: 1 })));

describe('the window', () => {
  const impulse = traceOf(101, (i) => (i === 50 ? 1 : 0));
  const touched = (window: number) => smooth(impulse, golay(window)).signal.filter((y) => y !== 0).length;

  // Windows of 7, 9 and 11 samples have no zero weight at degree 2.
  test.each([
    [6.4, 7],
    [7, 7],
    [7.9, 7],
    [8.1, 9],
    [9.5, 9],
    [10.2, 11],
  ])('of %s intervals becomes %s samples, the nearest odd number', (window, samples) => {
    expect(touched(window)).toBe(samples);
  });

  test('is in minutes, whatever the sampling', () => {
    const time = Array.from({ length: 101 }, (_, i) => i / 600);
    const fast = createTrace({ time, signal: impulse.signal, timeUnit: 'min', signalUnit: 'mAU' });
    expectClose(smooth(fast, golay(7 / 600)).signal, smooth(impulse, golay(7)).signal, 1e-12);
  });

  test('too narrow to hold five samples is refused, and the message says what would do', () => {
    const error = thrownBy(() => smooth(impulse, golay(3)));
    expect(error).toMatchObject({ code: 'option-invalid', details: { field: 'window', value: 3 } });
    expect(error.message).toContain('is 3 samples of 1.000 min');
    expect(error.message).toContain('here 5.00 to 401 min');
  });

  test('of more than 401 samples is refused rather than narrowed', () => {
    const long = traceOf(600, () => 0);
    expect(thrownBy(() => smooth(long, golay(500)))).toMatchObject({ code: 'option-invalid' });
    expect(smooth(long, golay(401)).signal).toHaveLength(600);
  });

  test('longer than the trace is refused', () => {
    expect(thrownBy(() => smooth(impulse, golay(201)))).toMatchObject({
      code: 'trace-too-short',
      details: { value: 101, expected: 'at least 201 samples' },
    });
    const two = traceAt([0, 1], (i) => i);
    expect(thrownBy(() => smooth(two, golay(5))).code).toBe('trace-too-short');
  });
});

describe('settings', () => {
  const trace = traceOf(50, (i) => i);
  test.each<[object | undefined, string]>([
    [undefined, 'option-invalid'],
    [{ window: 9 }, 'option-invalid'],
    [{ method: 'moving-average', window: 9 }, 'option-invalid'],
    [{ method: 'savitzky-golay' }, 'option-invalid'],
    [golay(Number.NaN), 'option-invalid'],
    [golay(-9), 'option-invalid'],
    [golay(9, { polynomial: 0 }), 'option-invalid'],
    [golay(9, { polynomial: 2.5 }), 'option-invalid'],
    [golay(9, { polynomial: 6 }), 'option-invalid'],
    [golay(5, { polynomial: 5 }), 'option-invalid'],
    [golay(9, { derivative: 3 }), 'option-invalid'],
    [golay(9, { derivative: -1 }), 'option-invalid'],
    [golay(9, { order: 2 }), 'option-unknown'],
  ])('%o are refused, and nothing is printed', (options, code) => {
    const print = vi.spyOn(console, 'warn');
    expect(thrownBy(() => smooth(trace, options as SmoothOptions)).code).toBe(code);
    expect(print).not.toHaveBeenCalled();
  });

  test('undefined is the same as not given', () => {
    const options = golay(9, { polynomial: undefined, derivative: undefined });
    expect(smooth(trace, options)).toStrictEqual(smooth(trace, golay(9)));
  });
});

describe('smooth', () => {
  test('lowers a Gaussian peak as its documentation says', () => {
    const peak = (fwhm: number) => traceOf(801, (i) => Math.exp(-4 * Math.LN2 * ((i - 400) / fwhm) ** 2));
    const loss = (fwhm: number) => 1 - smooth(peak(fwhm), golay(51)).signal[400]!;
    expect(loss(51)).toBeCloseTo(0.016, 3);
    expect(loss(102)).toBeCloseTo(0.0012, 4);
  });

  test('gives derivatives in minutes, and their unit', () => {
    const time = Array.from({ length: 50 }, (_, i) => i / 10);
    const square = traceAt(time, (i) => 3 * (i / 10) ** 2);
    const slope = smooth(square, golay(1, { derivative: 1 }));
    const bend = smooth(square, golay(1, { derivative: 2 }));
    expectClose(
      slope.signal,
      time.map((t) => 6 * t),
      1e-11,
    );
    expectClose(
      bend.signal,
      time.map(() => 6),
      1e-9,
    );
    expect([slope.signalUnit, bend.signalUnit]).toStrictEqual(['mAU/min', 'mAU/min²']);
  });

  test.each([
    [0.09, []],
    [0.11, ['smoothed-on-resampled']],
  ])('given a sample %s of an interval off the even grid warns %o', (off, expected) => {
    const time = Array.from({ length: 50 }, (_, i) => (i === 20 ? i + off : i));
    const { warnings } = smooth(
      traceAt(time, () => 1),
      golay(9),
    );
    expect(warnings.map(({ code }) => code)).toStrictEqual(expected);
  });

  test('treats times written with few digits as even when they lie within a tenth of an interval of an even grid', () => {
    const rounded = Array.from({ length: 200 }, (_, i) => Math.round((1e4 * i) / 60) / 1e4);
    expect(
      smooth(
        traceAt(rounded, (i) => i),
        golay(9 / 60),
      ).warnings,
    ).toStrictEqual([]);
  });

  test('resamples a trace that is not evenly sampled, says so, and answers at the times of the trace', () => {
    const time = Array.from({ length: 200 }, (_, i) => i + 0.3 * Math.sin(7 * i));
    const parabola = traceAt(time, (i) => (time[i]! / 100) ** 2);
    const smoothed = smooth(parabola, golay(9));
    expect(smoothed.warnings.map(({ code }) => code)).toStrictEqual(['smoothed-on-resampled']);
    expect(smoothed.time).toStrictEqual(parabola.time);
    // Straight lines between samples up to 1.6 apart leave a parabola by at most 1.6^2 / 8, twice, in units of (1/100)^2.
    expectClose(smoothed.signal, parabola.signal, (2 * 1.6 ** 2) / 8 / 1e4 / (time.at(-1)! / 100) ** 2);
  });

  test('follows the faster of two sampling rates', () => {
    const time = Array.from({ length: 300 }, (_, i) => (i < 150 ? i : 150 + 0.25 * (i - 150)));
    const peak = (t: number) => Math.exp(-0.5 * ((t - 170) / 2) ** 2);
    const smoothed = smooth(
      traceAt(time, (i) => peak(time[i]!)),
      golay(2),
    );
    // Without the closer samples the apex would fall by far more: 2 min are five samples of 0.4 min or more.
    expect(smoothed.signal[150 + 80]).toBeCloseTo(1, 2);
  });

  test('does not run out of memory when half of the samples lie a billion times closer than the rest', () => {
    const time = Array.from({ length: 80 }, (_, i) => Math.floor(i / 2) + (i % 2) * 1e-9);
    const smoothed = smooth(
      traceAt(time, () => 3),
      golay(5),
    );
    expectClose(smoothed.signal, new Float64Array(80).fill(3), 1e-13);
  });

  test('lets nothing pass across a gap', () => {
    const time = Array.from({ length: 80 }, (_, i) => (i < 40 ? i : i + 40));
    const step = traceAt(time, (i) => (i < 40 ? 5 : 9));
    const smoothed = smooth(step, golay(11));
    expectClose(smoothed.signal, step.signal, 1e-13);
    expect(smoothed.gaps).toStrictEqual(step.gaps);
  });

  test('says which stretch between gaps is too short', () => {
    const time = [...Array.from({ length: 40 }, (_, i) => i), 100, 101, 102];
    const error = thrownBy(() =>
      smooth(
        traceAt(time, () => 0),
        golay(9),
      ),
    );
    expect(error.code).toBe('trace-too-short');
    expect(error.message).toContain('from 100 to 102 min has 3 samples');
  });
});
