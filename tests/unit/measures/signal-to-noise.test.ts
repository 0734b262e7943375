import { expect, test } from 'vitest';
import { createTrace, measureSignalToNoise } from '../../../src/index.js';

const noise = { standardDeviation: 0.1, along: { time: [0], value: [0.1] }, correlation: 0 };
const trace = (f: (t: number, i: number) => number, n = 2001) => {
  const time = Float64Array.from({ length: n }, (_, i) => i * 0.01);
  return createTrace({ time, signal: time.map(f), timeUnit: 'min', signalUnit: 'mAU' });
};

// Twelve samples of a blank with h 0.32, and a height of 5.4: S/N 33.75 by 2H/h (common practice, worked by hand).
test('is twice the height over the range of the samples', () => {
  const blank = [0.11, -0.05, 0.08, -0.12, 0.02, 0.15, -0.09, 0.04, -0.17, 0.1, 0.06, -0.03];
  // Forwards and backwards, so that the best straight line is level and takes nothing off.
  const both = [...blank, ...blank.slice().reverse()];
  const mean = blank.reduce((a, b) => a + b) / 12;
  const record = trace((_, i) => both[i % 24]! - mean, 24);
  const { signalToNoise } = measureSignalToNoise(record, { retentionTime: 0.115, height: 5.4 }, 0.02, [], undefined, {
    window: 20,
  });
  expect(signalToNoise).toMatchObject({ definition: '2H/h', source: 'this run', points: 24, from: 0 });
  expect(signalToNoise!.noise).toBeCloseTo(0.32, 12);
  expect(signalToNoise!.value).toBeCloseTo(33.75, 9);
});

test('takes a straight drift off and leaves the peaks out', () => {
  const record = trace((t, i) => 3 * t + (i % 2 === 0 ? 0.5 : -0.5) + (Math.abs(t - 10) < 0.3 ? 500 : 0));
  const { signalToNoise } = measureSignalToNoise(record, { retentionTime: 10, height: 500 }, 0.4, [
    { start: 9.6, end: 10.4 },
  ]);
  expect(signalToNoise!.noise).toBeCloseTo(1, 2);
  expect(signalToNoise!.from).toBeCloseTo(6, 9);
  expect(signalToNoise!.to).toBeCloseTo(14, 9);
});

test('moves the window inwards at the end of the record', () => {
  const record = trace((_, i) => (i % 2 === 0 ? 0.5 : -0.5));
  const { signalToNoise } = measureSignalToNoise(record, { retentionTime: 0.5, height: -5 }, 0.2, [
    { start: 0.2, end: 0.8 },
  ]);
  expect(signalToNoise!.from).toBe(0);
  expect(signalToNoise!.to).toBeCloseTo(4, 9);
  // The best line through samples that alternate is tilted a little, which lowers the ratio by up to 2 %.
  expect(Math.abs(signalToNoise!.value / 10 - 1)).toBeLessThan(0.02);
});

test('searches outward when peaks fill the window', () => {
  const record = trace((_, i) => (i % 2 === 0 ? 0.5 : -0.5));
  const { signalToNoise } = measureSignalToNoise(record, { retentionTime: 10, height: 5 }, 0.1, [
    { start: 7, end: 13 },
  ]);
  expect(signalToNoise!.source).toBe('this run');
  expect(signalToNoise!.to - signalToNoise!.from).toBeGreaterThan(6);
  expect(signalToNoise!.to - signalToNoise!.from).toBeLessThan(6.8);
});

test('falls back on the noise model, and says so, when the whole record is full of peaks', () => {
  const record = trace((_, i) => (i % 2 === 0 ? 0.5 : -0.5));
  const full = [{ start: 0, end: 20 }];
  const { signalToNoise } = measureSignalToNoise(record, { retentionTime: 10, height: 5 }, 0.1, full, noise);
  // 200 samples in 20 widths; 200 normal values of standard deviation 1 have an expected range of 5.492.
  expect(signalToNoise).toMatchObject({ source: 'noise model', points: 200 });
  expect(signalToNoise!.noise / 0.5492).toBeCloseTo(1, 2);
  const none = measureSignalToNoise(record, { retentionTime: 10, height: 5 }, 0.1, full);
  expect(none.signalToNoise).toBeUndefined();
  expect(none.warnings[0]!.code).toBe('signal-to-noise-absent');
});

test('is absent when the readings around the peak do not differ', () => {
  const result = measureSignalToNoise(
    trace(() => 1),
    { retentionTime: 10, height: 5 },
    0.1,
    [{ start: 9.8, end: 10.2 }],
    noise,
  );
  expect(result.signalToNoise).toBeUndefined();
  expect(result.warnings[0]!.message).toContain('hidden by the step of the readings');
});

test('refuses a window shorter than five widths', () => {
  expect(() =>
    measureSignalToNoise(
      trace(() => 1),
      { retentionTime: 1, height: 1 },
      0.1,
      [],
      undefined,
      { window: 4 },
    ),
  ).toThrow('option window must be a number of at least 5');
});
