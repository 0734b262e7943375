import { describe, expect, test } from 'vitest';
import { coverageFactor, fUpperTail, studentTUpperQuantile, studentTUpperTail } from '../../../src/numeric/index.js';
import { incompleteBeta } from '../../../src/numeric/incomplete-beta.js';
import { log1p } from '../../../src/numeric/log1p.js';

const near = (found: number, wanted: number, tolerance: number): void => {
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(tolerance * Math.abs(wanted));
};

describe('closed forms', () => {
  // one degree of freedom is the Cauchy distribution, two have a root
  test.each([0.01, 0.5, 1, 3, 50, 1e6])('Student t beyond %d with 1 and 2 degrees of freedom', (t) => {
    near(studentTUpperTail(t, 1), Math.atan2(1, t) / Math.PI, 1e-14);
    near(studentTUpperTail(t, 2), 1 / (2 + t * t) / (1 + t / Math.sqrt(2 + t * t)), 1e-14);
  });

  test.each([0.4, 0.1, 0.025, 1e-6])('the value of t exceeded with probability %d', (p) => {
    near(studentTUpperQuantile(p, 1), 1 / Math.tan(Math.PI * p), 2e-14);
    const a = 4 * p * (1 - p);
    near(studentTUpperQuantile(p, 2), 2 * (0.5 - p) * Math.sqrt(2 / a), 2e-14);
  });

  test.each([0.1, 1, 2.5, 1000])('F beyond %d with 2 and 2, 2 and 6 degrees of freedom', (f) => {
    near(fUpperTail(f, 2, 2), 1 / (1 + f), 1e-14);
    near(fUpperTail(f, 2, 6), (1 + f / 3) ** -3, 1e-14);
  });

  test.each([
    [0.3, 1, 4, 1 - 0.7 ** 4],
    [0.3, 3, 1, 0.3 ** 3],
    [0.25, 0.5, 0.5, 1 / 3],
    [0.5, 7.25, 7.25, 0.5],
  ])('the incomplete beta function at %d for %d and %d', (x, a, b, value) => {
    near(incompleteBeta(x, 1 - x, a, b), value, 1e-14);
    near(incompleteBeta(1 - x, x, b, a), 1 - value, 1e-14);
  });
});

describe('identities', () => {
  test('F with 1 degree of freedom is the square of t', () => {
    for (const v of [1, 3, 8, 40, 1e6]) near(fUpperTail(coverageFactor(0.95, v) ** 2, 1, v), 0.05, 1e-12);
  });

  // the two-sided 95 % point of the normal distribution, of handbook tables
  test('many degrees of freedom give the normal factor', () => {
    const normal = 1.959963984540054;
    near(coverageFactor(0.95, Infinity), normal, 1e-15);
    near(coverageFactor(0.95, Number.MAX_VALUE), normal, 1e-15);
    near(coverageFactor(0.95, 9e11), normal, 1e-11);
  });

  // t = z + (z³ + z) / (4 v) + ..., Abramowitz and Stegun, 26.7.5
  test('the way to the normal factor is that of the expansion for many degrees of freedom', () => {
    const z = 1.959963984540054;
    for (const v of [1e6, 1e8, 1e10]) near(coverageFactor(0.95, v), z + (z * z * z + z) / (4 * v), 1e-11);
  });

  test('the ends are 0 and 1, never NaN', () => {
    expect(studentTUpperTail(0, 4)).toBe(0.5);
    expect(studentTUpperTail(Infinity, 3)).toBe(0);
    expect(studentTUpperTail(1e200, 1e-3)).toBeGreaterThanOrEqual(0);
    expect(studentTUpperTail(60, Infinity)).toBe(0);
    expect(studentTUpperQuantile(0.5, 3)).toBe(0);
    expect(fUpperTail(0, 2, 3)).toBe(1);
    expect(fUpperTail(Infinity, 2, 3)).toBe(0);
  });
});

test('the logarithm of 1 + x keeps the digits of a small x', () => {
  for (const x of [1e-300, 1e-17, 1e-9, -1e-9, 1e-4, -0.4, 0.5, 3, 1e9]) near(log1p(x), Math.log1p(x), 1e-15);
});
