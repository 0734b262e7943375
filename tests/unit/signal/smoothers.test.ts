import { describe, expect, test } from 'vitest';
import { smooth, type SmoothOptions } from '../../../src/index.js';
import { expectClose } from '../../support/close.js';
import { keepsTraceContract, thrownBy } from '../../support/contracts.js';
import { repeatableNormals, traceAt, traceOf } from '../../support/traces.js';

const family: readonly SmoothOptions[] = [
  { method: 'moving average', window: 9 },
  { method: 'gaussian', sigma: 2.5 },
  { method: 'median', window: 9 },
  { method: 'whittaker', sharpestBend: 4 },
  { method: 'whittaker', sharpestBend: 4, differences: 1 },
];

describe.each(family)('smooth with %o', (options) => {
  keepsTraceContract('it', (trace) => smooth(trace, options));

  test('returns a straight line unchanged, ends included; slopes kept small leave a level', () => {
    const level = 'differences' in options ? 0 : 0.3;
    const line = traceOf(80, (i) => 7 + level * i);
    expectClose(smooth(line, options).signal, line.signal, 1e-13);
  });

  test('turned round in time gives the same, turned round', () => {
    const normal = repeatableNormals(3);
    const y = Array.from({ length: 90 }, () => normal());
    const forwards = smooth(
      traceOf(90, (i) => y[i]!),
      options,
    );
    const backwards = smooth(
      traceOf(90, (i) => y[89 - i]!),
      options,
    );
    expectClose([...backwards.signal].reverse(), forwards.signal, 1e-12);
  });

  test('lets nothing pass across a gap', () => {
    const time = Array.from({ length: 80 }, (_, i) => (i < 40 ? i : i + 40));
    const step = traceAt(time, (i) => (i < 40 ? 5 : 9));
    expectClose(smooth(step, options).signal, step.signal, 1e-13);
  });

  test('resamples a stretch that is not even and says so', () => {
    const time = Array.from({ length: 200 }, (_, i) => i + 0.3 * Math.sin(7 * i));
    const wave = traceAt(time, (i) => Math.sin(time[i]! / 40));
    const { signal, warnings } = smooth(wave, options);
    expect(warnings.map(({ code }) => code)).toStrictEqual(['smoothed-on-resampled']);
    // The widest of them lowers a wave of 40 by 1 / (1 + (4 / 40)²).
    signal.slice(20, -20).forEach((y, i) => {
      expect(Math.abs(y - Math.sin(time[i + 20]! / 40))).toBeLessThan(0.02);
    });
  });
});

test('the moving average of three keeps its ends', () => {
  const trace = traceOf(5, (i) => [0, 0, 3, 3, 9][i]!);
  expect([...smooth(trace, { method: 'moving average', window: 3 }).signal]).toStrictEqual([0, 1, 2, 5, 9]);
});

test('the moving average of five narrows to three, then to the sample, at both ends', () => {
  const y = [8, 2, 5, 11, 4, 9, 7];
  const { signal } = smooth(
    traceOf(7, (i) => y[i]!),
    { method: 'moving average', window: 5 },
  );
  expectClose(signal, [8, 15 / 3, 30 / 5, 31 / 5, 36 / 5, 20 / 3, 7], 1e-15);
});

test('the running sum does not gather rounding over a million samples a thousand million high', () => {
  const high = traceOf(1e6, (i) => 1e9 + (i % 7));
  const { signal } = smooth(high, { method: 'moving average', window: 7 });
  expect(Math.abs(signal[999_000]! - 1e9 - 3)).toBeLessThan(1e-6);
});

test('a Gaussian broadens a Gaussian as the sum of their variances, and lowers it by the ratio of their widths', () => {
  const peak = traceOf(201, (i) => Math.exp(-0.5 * ((i - 100) / 6) ** 2));
  const { signal } = smooth(peak, { method: 'gaussian', sigma: 4 });
  // Cut at 4 sigma: 6e-5 of the weight is missing.
  expect(Math.abs(signal[100]! / (6 / Math.sqrt(52)) - 1)).toBeLessThan(2e-4);
  expect(signal.reduce((a, b) => a + b, 0)).toBeCloseTo(6 * Math.sqrt(2 * Math.PI), 6);
});

test('the losses and noise that the descriptions state are true', () => {
  const sigma = 20;
  const peak = traceOf(401, (i) => Math.exp(-0.5 * ((i - 200) / sigma) ** 2));
  const wide = smooth(peak, { method: 'moving average', window: 2.3548 * sigma }).signal[200]!;
  expect(1 - wide).toBeCloseTo(0.19, 2);
  const normal = repeatableNormals(9);
  const noise = traceOf(40_000, () => normal());
  const left = (options: SmoothOptions) =>
    Math.sqrt(smooth(noise, options).signal.reduce((sum, y) => sum + y * y, 0) / 40_000);
  expect(left({ method: 'moving average', window: 25 }) * 5).toBeCloseTo(1, 1);
  expect(left({ method: 'gaussian', sigma: 9 }) * 3).toBeCloseTo(0.53, 1);
  expect(left({ method: 'whittaker', sharpestBend: 9 }) * 3).toBeCloseTo(0.51, 1);
});

test('the median takes out a spike of four samples of a window of nine and leaves an edge where it is', () => {
  const edge = (i: number) => (i < 50 ? 2 : 12);
  const spiked = traceOf(100, (i) => (i >= 20 && i < 24 ? 90 : edge(i)));
  const { signal } = smooth(spiked, { method: 'median', window: 9 });
  expect([...signal]).toStrictEqual(Array.from({ length: 100 }, (_, i) => edge(i)));
});

test('Whittaker keeps area and mean time to the last digits at its stiffest', () => {
  const normal = repeatableNormals(4);
  const noisy = traceOf(3000, (i) => 100 + i / 10 + normal());
  const { signal } = smooth(noisy, { method: 'whittaker', sharpestBend: 300 });
  const total = (y: Float64Array) => y.reduce((a, b) => a + b, 0);
  const moment = (y: Float64Array) => y.reduce((a, b, i) => a + b * i, 0);
  expect(Math.abs(total(signal) / total(noisy.signal) - 1)).toBeLessThan(1e-8);
  expect(Math.abs(moment(signal) / moment(noisy.signal) - 1)).toBeLessThan(1e-8);
});

test('wrong settings are refused by name', () => {
  const trace = traceOf(50, (i) => i);
  const refusal = (options: unknown) => thrownBy(() => smooth(trace, options as SmoothOptions));
  expect(refusal({ method: 'mean', window: 5 }).message).toContain("'moving average'");
  expect(refusal({ method: 'gaussian', window: 5 })).toMatchObject({ code: 'option-unknown' });
  expect(refusal({ method: 'gaussian', sigm: 5 }).message).toContain('did you mean sigma?');
  expect(refusal({ method: 'gaussian', sigma: 0.1 })).toMatchObject({ details: { field: 'sigma' } });
  expect(refusal({ method: 'gaussian', sigma: 501 })).toMatchObject({ details: { field: 'sigma' } });
  expect(refusal({ method: 'gaussian' })).toMatchObject({ details: { field: 'sigma' } });
  expect(refusal({ method: 'median', window: 1 })).toMatchObject({ details: { field: 'window' } });
  expect(refusal({ method: 'moving average', window: 1.9 })).toMatchObject({ code: 'option-invalid' });
  expect(refusal({ method: 'moving average', window: 61 })).toMatchObject({ code: 'trace-too-short' });
  expect(refusal({ method: 'whittaker', sharpestBend: 301 })).toMatchObject({ details: { field: 'sharpestBend' } });
  expect(refusal({ method: 'whittaker', sharpestBend: 3, differences: 3 })).toMatchObject({
    details: { field: 'differences' },
  });
});
