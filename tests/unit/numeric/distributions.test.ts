import { describe, expect, test } from 'vitest';
import {
  coverageFactor,
  fUpperQuantile,
  fUpperTail,
  normalQuantile,
  normalUpperTail,
  studentTUpperQuantile,
  studentTUpperTail,
} from '../../../src/numeric/index.js';
import { incompleteBeta, incompleteBetaUpper } from '../../../src/numeric/incomplete-beta.js';
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
    near(incompleteBeta(x, a, b), value, 1e-14);
    near(incompleteBetaUpper(x, a, b), 1 - value, 1e-14);
  });
});

describe('identities', () => {
  test('F with 1 degree of freedom is the square of t', () => {
    for (const v of [1, 3, 8, 40, 1e6]) near(fUpperQuantile(0.05, 1, v), coverageFactor(0.95, v) ** 2, 1e-12);
  });

  test('many degrees of freedom give the normal factor', () => {
    near(coverageFactor(0.95, Infinity), normalQuantile(0.975), 1e-15);
    near(coverageFactor(0.95, Number.MAX_VALUE), normalQuantile(0.975), 1e-15);
    near(coverageFactor(0.95, 1e13), normalQuantile(0.975), 1e-11);
  });

  test('both tails sum to 1', () => {
    for (const x of [0, 0.3, 1.9, 4]) {
      expect(normalUpperTail(x) + normalUpperTail(-x)).toBeCloseTo(1, 15);
      expect(studentTUpperTail(x, 4) + studentTUpperTail(-x, 4)).toBeCloseTo(1, 15);
    }
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(0.25)).toBe(-normalQuantile(0.75));
  });

  test('the ends are 0 and 1, never NaN', () => {
    expect(studentTUpperTail(Infinity, 3)).toBe(0);
    expect(studentTUpperTail(1e200, 1e-3)).toBeGreaterThanOrEqual(0);
    expect(fUpperTail(0, 2, 3)).toBe(1);
    expect(fUpperTail(Infinity, 2, 3)).toBe(0);
    expect(normalUpperTail(60)).toBe(0);
  });
});

test('the logarithm of 1 + x keeps the digits of a small x', () => {
  for (const x of [1e-300, 1e-17, 1e-9, -1e-9, 1e-4, -0.4, 0.5, 3, 1e9]) near(log1p(x), Math.log1p(x), 1e-15);
});
