import { expect, test } from 'vitest';
import { locateApex } from '../../../src/numeric/index.js';

const gauss = (t: number): number => 100 * Math.exp(-0.5 * ((t - 5.0037) / 0.05) ** 2);
const grid = (step: number): Float64Array =>
  Float64Array.from({ length: Math.round(1 / step) + 1 }, (_, i) => 4.5 + i * step);
const question = { approx: 4.99, start: 4.6, end: 5.4, sign: 1 } as const;

test('a flat top of a saturated detector gives the middle of the plateau', () => {
  const time = grid(0.005);
  const apex = locateApex(
    time,
    time.map((t) => Math.min(60, gauss(t))),
    question,
  );
  expect(apex).toMatchObject({ method: 'plateau', height: 60 });
  expect(Math.abs(apex.time - 5.0037)).toBeLessThanOrEqual(0.0025);
});

test('samples that come at unequal times give the same apex', () => {
  const time = grid(0.004).map((t, i) => t + 0.0015 * Math.sin(i * 1.7));
  const apex = locateApex(time, time.map(gauss), question);
  expect(apex.method).toBe('local fit');
  expect(Math.abs(apex.time - 5.0037)).toBeLessThan(0.0005);
  expect(Math.abs(apex.height / 100 - 1)).toBeLessThan(0.0005);
});

test('a rising stretch without a maximum gives back the place that was asked for', () => {
  const time = grid(0.01);
  const apex = locateApex(
    time,
    time.map((t) => 2 * t),
    question,
  );
  expect(apex).toMatchObject({ method: 'as given', time: 4.99 });
  expect(apex.height).toBeCloseTo(9.98, 9);
});

test('a minimum below a sloping line has a negative height', () => {
  const time = grid(0.005);
  const base = { time: [4, 6], value: [0, 20] };
  const apex = locateApex(
    time,
    time.map((t) => 10 * (t - 4) - gauss(t)),
    { ...question, sign: -1, base },
  );
  expect(Math.abs(apex.height / -100 - 1)).toBeLessThan(0.0005);
  expect(Math.abs(apex.time - 5.0037)).toBeLessThan(0.0005);
});
