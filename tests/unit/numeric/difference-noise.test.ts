import { expect, test } from 'vitest';
import { differenceNoise } from '../../../src/numeric/index.js';
import { repeatableNormals } from '../../support/traces.js';

const noisy = (n: number, signal: (i: number) => number, seed = 1) => {
  const next = repeatableNormals(seed);
  return Float64Array.from({ length: n }, (_, i) => signal(i) + 0.5 * next());
};

// Tolerance: the median of n sizes has a standard error of about 1.3 / sqrt(n) of itself (more for correlated
// differences); 3 % is over three of them for n = 40 000.
test.each<[string, (i: number) => number]>([
  ['white noise', () => 0],
  ['a steep drift', (i) => 100 * i],
  [
    'peaks over a tenth of the record',
    (i) => (i % 1000 < 100 ? 500 * Math.exp(-0.5 * (((i % 1000) - 50) / 8) ** 2) : 0),
  ],
  ['a spike every fifty samples', (i) => (i % 50 === 0 ? 1e4 : 0)],
])('differenceNoise finds the standard deviation under %s', (name, signal) => {
  const tolerance = name === 'white noise' || name === 'a steep drift' ? 0.03 : 0.15;
  expect(Math.abs(differenceNoise(noisy(40_000, signal))! / 0.5 - 1)).toBeLessThan(tolerance);
});

test('differenceNoise still sees noise that more often than not stays within one digit', () => {
  // Steps of 2 for a standard deviation of 0.5: most neighbouring readings are equal.
  const digitised = noisy(40_000, () => 0).map((v) => 2 * Math.round(v / 2));
  expect(differenceNoise(digitised)).toBeGreaterThan(0.1);
});

test('differenceNoise says nothing of fewer than ten readings, and 0 of a straight line', () => {
  expect(differenceNoise(new Float64Array(9))).toBeUndefined();
  expect(differenceNoise(Float64Array.from({ length: 50 }, (_, i) => 3 * i))).toBe(0);
});
