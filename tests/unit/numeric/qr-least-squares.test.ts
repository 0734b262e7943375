import { describe, expect, test } from 'vitest';
import { solveLeastSquares } from '../../../src/numeric/index.js';

const f64 = (...values: number[]): Float64Array => Float64Array.from(values);

describe('solveLeastSquares', () => {
  test('gives back a plane through its own points, exactly determined', () => {
    const fit = solveLeastSquares([f64(0, 1, 0), f64(0, 0, 1)], f64(5, 7, 4), { intercept: true });
    expect(fit.intercept).toBeCloseTo(5, 14);
    expect(Array.from(fit.coefficients, (c) => Number(c.toFixed(13)))).toEqual([2, -1]);
    expect(fit.degreesOfFreedom).toBe(0);
  });

  // by hand: x 1 2 3, y 2 3 7: slope 5/2, intercept -1; (X'X)⁻¹ = [14 -6; -6 3] / 6
  test('has the inverse of the normal matrix with the intercept first', () => {
    const fit = solveLeastSquares([f64(1, 2, 3)], f64(2, 3, 7), { intercept: true });
    expect(fit.intercept).toBeCloseTo(-1, 14);
    expect(fit.coefficients[0]).toBeCloseTo(2.5, 14);
    [14 / 6, -1, -1, 0.5].forEach((value, i) => {
      expect(fit.unscaledCovariance[i]).toBeCloseTo(value, 13);
    });
    expect(fit.residualSumOfSquares).toBeCloseTo(1.5, 14);
    expect(Array.from(fit.residuals, (r) => Number(r.toFixed(13)))).toEqual([0.5, -1, 0.5]);
  });

  test('loses no digits to a large constant in the column', () => {
    const near = solveLeastSquares([f64(1, 2, 3, 4)], f64(2, 3, 7, 8), { intercept: true });
    const far = solveLeastSquares([f64(1, 2, 3, 4).map((x) => x + 1e9)], f64(2, 3, 7, 8), { intercept: true });
    expect(far.coefficients[0]).toBe(near.coefficients[0]);
    expect(far.residualSumOfSquares).toBe(near.residualSumOfSquares);
  });

  test('does not mind the unit of a column', () => {
    const x = f64(1, 2, 3, 5);
    const z = f64(4, 1, 0, 2);
    const y = f64(1, 5, 2, 8);
    const plain = solveLeastSquares([x, z], y, { intercept: true });
    const scaled = solveLeastSquares([x.map((v) => v * 2 ** 100), z], y, { intercept: true });
    expect(scaled.coefficients[0]! * 2 ** 100).toBe(plain.coefficients[0]);
    expect(scaled.coefficients[1]).toBe(plain.coefficients[1]);
  });

  test.each([
    ['a constant column beside an intercept', [f64(3, 3, 3, 3)]],
    ['a column that is twice another', [f64(1, 2, 4, 5), f64(2, 4, 8, 10)]],
    ['a column of zeros', [f64(1, 2, 4, 5), f64(0, 0, 0, 0)]],
  ])('says so when the columns do not determine the coefficients: %s', (_, columns) => {
    const fit = solveLeastSquares(columns, f64(1, 2, 3, 5), { intercept: true });
    expect(fit.status).toBe('rank deficient');
    expect([...fit.coefficients, ...fit.unscaledCovariance, ...fit.residuals].every(Number.isFinite)).toBe(true);
  });

  test('leaves its inputs alone', () => {
    const x = f64(1, 2, 3);
    const y = f64(2, 3, 7);
    solveLeastSquares([x], y, { intercept: true });
    expect([...x, ...y]).toEqual([1, 2, 3, 2, 3, 7]);
  });
});
