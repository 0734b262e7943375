import { describe, expect, test } from 'vitest';
import { solveLeastSquares } from '../../../src/numeric/index.js';

const f64 = (...values: number[]): Float64Array => Float64Array.from(values);
const ones = (n: number): Float64Array => new Float64Array(n).fill(1);

describe('solveLeastSquares', () => {
  test('gives back a plane through its own points, exactly determined', () => {
    const fit = solveLeastSquares([ones(3), f64(0, 1, 0), f64(0, 0, 1)], f64(5, 7, 4));
    expect(Array.from(fit.coefficients, (c) => Number(c.toFixed(13)))).toEqual([5, 2, -1]);
    expect(fit.degreesOfFreedom).toBe(0);
  });

  // by hand: x 1 2 3, y 2 3 7: slope 5/2, intercept -1; (X'X)⁻¹ = [14 -6; -6 3] / 6
  test('has the inverse of the normal matrix', () => {
    const fit = solveLeastSquares([ones(3), f64(1, 2, 3)], f64(2, 3, 7));
    expect(fit.coefficients[0]).toBeCloseTo(-1, 14);
    expect(fit.coefficients[1]).toBeCloseTo(2.5, 14);
    [14 / 6, -1, -1, 0.5].forEach((value, i) => {
      expect(fit.unscaledCovariance[i]).toBeCloseTo(value, 13);
    });
    expect(fit.residualSumOfSquares).toBeCloseTo(1.5, 14);
    expect(Array.from(fit.residuals, (r) => Number(r.toFixed(13)))).toEqual([0.5, -1, 0.5]);
  });

  test('loses no digits to a large constant in the column', () => {
    const near = solveLeastSquares([ones(4), f64(1, 2, 3, 4)], f64(2, 3, 7, 8));
    const far = solveLeastSquares([ones(4), f64(1, 2, 3, 4).map((x) => x + 1e9)], f64(2, 3, 7, 8));
    expect(far.coefficients[1]).toBe(near.coefficients[1]);
    expect(far.residualSumOfSquares).toBe(near.residualSumOfSquares);
  });

  test('does not mind the unit of a column', () => {
    const x = f64(1, 2, 3, 5);
    const z = f64(4, 1, 0, 2);
    const y = f64(1, 5, 2, 8);
    const plain = solveLeastSquares([ones(4), x, z], y);
    const scaled = solveLeastSquares([ones(4), x.map((v) => v * 2 ** 100), z], y);
    expect(scaled.coefficients[1]! * 2 ** 100).toBe(plain.coefficients[1]);
    expect(scaled.coefficients[2]).toBe(plain.coefficients[2]);
  });

  test.each([
    ['a constant column beside an intercept', [f64(3, 3, 3, 3)]],
    ['a constant that is no sum of powers of two', [f64(0.1, 0.1, 0.1, 0.1)]],
    ['a column that is twice another', [f64(1, 2, 4, 5), f64(2, 4, 8, 10)]],
    ['a column of zeros', [f64(1, 2, 4, 5), f64(0, 0, 0, 0)]],
  ])('says so when the columns do not determine the coefficients: %s', (_, columns) => {
    const fit = solveLeastSquares([ones(4), ...columns], f64(1, 2, 3, 5));
    expect(fit.status).toBe('rank deficient');
    expect([...fit.coefficients, ...fit.unscaledCovariance, ...fit.residuals].every(Number.isFinite)).toBe(true);
  });

  test('leaves its inputs alone', () => {
    const x = f64(1, 2, 3);
    const y = f64(2, 3, 7);
    solveLeastSquares([ones(3), x], y);
    expect([...x, ...y]).toEqual([1, 2, 3, 2, 3, 7]);
  });
});
