import { describe, expect, test } from 'vitest';
import { exp, fitLeastSquares, solveLeastSquares, type ReachedFit } from '../../../src/numeric/index.js';

type Problem = Parameters<typeof fitLeastSquares>[0];

function reach(problem: Problem): ReachedFit {
  const fit = fitLeastSquares(problem);
  if (fit.status === 'failed') throw new Error(fit.reason);
  return fit;
}

/** y = Σ b_j column_j: linear, so every answer is known. */
function linear(columns: readonly (readonly number[])[], y: readonly number[]): Pick<Problem, 'evaluate' | 'points'> {
  return {
    points: y.length,
    evaluate(p, residuals, jacobian) {
      for (let i = 0; i < y.length; i++) {
        residuals[i] = columns.reduce((sum, column, j) => sum + p[j]! * column[i]!, -y[i]!);
        columns.forEach((column, j) => {
          if (jacobian !== undefined) jacobian[j * y.length + i] = column[i]!;
        });
      }
    },
  };
}

/** Rosenbrock's valley as two residuals. */
const valley: Pick<Problem, 'evaluate' | 'points'> = {
  points: 2,
  evaluate(p, residuals, jacobian) {
    residuals[0] = 10 * (p[1]! - p[0]! * p[0]!);
    residuals[1] = 1 - p[0]!;
    jacobian?.set([-20 * p[0]!, -1, 10, 0]);
  },
};

const ones = [1, 1, 1, 1, 1, 1];
const x = [0, 1, 2, 3, 4, 5];
const y = [1.1, 2.9, 5.2, 6.8, 9.1, 11.2];

describe('fitLeastSquares', () => {
  test('solves a linear problem as the linear solver does', () => {
    const fit = reach({ ...linear([ones, x], y), start: [0, 0] });
    const exact = solveLeastSquares([Float64Array.from(ones), Float64Array.from(x)], Float64Array.from(y));
    fit.parameters.forEach((value, j) => expect(value).toBeCloseTo(exact.coefficients[j]!, 12));
    fit.unscaledCovariance!.forEach((value, j) => expect(value).toBeCloseTo(exact.unscaledCovariance[j]!, 13));
    expect(fit).toMatchObject({ status: 'converged', degreesOfFreedom: 4, held: [], undetermined: [] });
  });

  test('follows the valley of Rosenbrock (Comput. J. 3 (1960) 175-184) to its end', () => {
    const fit = reach({ ...valley, start: [-1.2, 1] });
    expect(fit.status).toBe('converged');
    expect([...fit.parameters]).toEqual([expect.closeTo(1, 10), expect.closeTo(1, 10)]);
    expect(fit.iterations).toBeLessThan(40);
  });

  test.each([
    // On the bound p0 = 0.5 the best p1 is 0.25; on p1 = 0.1 the best p0 is the root of 200 p0³ - 19 p0 - 1.
    [[-Infinity, -Infinity], [0.5, Infinity], [0.5, 0.25], [0]],
    [[1.5, -Infinity], [Infinity, Infinity], [1.5, 2.25], [0]],
    [[-2, -2], [0.5, 0.1], [0.331769081122, 0.1], [1]],
    [[-5, -5], [5, 5], [1, 1], []],
  ])('between %j and %j ends at the best point of the box', (lower, upper, expected, held) => {
    const fit = reach({ ...valley, start: [-1.2, 1], lower, upper });
    expect(fit.status).toBe('converged');
    expect(fit.held).toEqual(held);
    expected.forEach((value, j) => expect(fit.parameters[j]!).toBeCloseTo(value, 8));
    // No point of the box nearby is better.
    const residuals = new Float64Array(2);
    for (const [dx, dy] of [
      [1e-4, 0],
      [-1e-4, 0],
      [0, 1e-4],
      [0, -1e-4],
    ] as const) {
      const moved = Float64Array.of(fit.parameters[0]! + dx, fit.parameters[1]! + dy);
      if (moved.some((value, j) => value < lower[j]! || value > upper[j]!)) continue;
      valley.evaluate(moved, residuals);
      expect(residuals[0]! ** 2 + residuals[1]! ** 2).toBeGreaterThan(fit.residualSumOfSquares);
    }
  });

  test('leaves a bound it started at', () => {
    const fit = reach({ ...linear([ones, x], y), start: [5, 3], lower: [-10, -10], upper: [5, 3] });
    expect(fit.held).toEqual([]);
    expect(fit.parameters[1]!).toBeCloseTo(2.02, 10);
  });

  test('holds a parameter whose bounds are equal, and fits the others as if it were a constant', () => {
    const fit = reach({ ...linear([ones, x], y), start: [7, 1], lower: [1, -Infinity], upper: [1, Infinity] });
    const sum = x.reduce((total, value, i) => total + value * (y[i]! - 1), 0);
    expect([...fit.parameters]).toEqual([1, expect.closeTo(sum / 55, 12)]);
    expect(fit.held).toEqual([0]);
    expect(fit.degreesOfFreedom).toBe(5);
    expect([...fit.unscaledCovariance!]).toEqual([0, 0, 0, expect.closeTo(1 / 55, 14)]);
  });

  test('says which parameters the data do not determine, gives no covariance and stays finite', () => {
    const fit = reach({ ...linear([ones, x, x.map((value) => 2 * value)], y), start: [0, 0, 0] });
    expect(fit.undetermined).toHaveLength(1);
    expect(fit).not.toHaveProperty('unscaledCovariance');
    expect(fit.parameters.every(Number.isFinite)).toBe(true);
    const straight = reach({ ...linear([ones, x], y), start: [0, 0] });
    expect(fit.residualSumOfSquares).toBeCloseTo(straight.residualSumOfSquares, 12);
  });

  test('copes with a parameter that does nothing at all', () => {
    const fit = reach({ ...linear([ones, x, [0, 0, 0, 0, 0, 0]], y), start: [0, 0, 3] });
    expect(fit.undetermined).toEqual([2]);
    expect(fit.parameters[2]).toBe(3);
    expect(fit.parameters[1]!).toBeCloseTo(2.02, 10);
  });

  test.each([NaN, Infinity, 1e200])('takes back a step to where the residuals are %d', (wall) => {
    // exp(-x p) fitted from the flat side, where the first step overshoots to a p below 0.
    let refused = 0;
    const fit = reach({
      points: 6,
      start: [4],
      evaluate([p], residuals, jacobian) {
        if (p! < 0.2) refused++;
        for (let i = 0; i < 6; i++) {
          const value = p! < 0.2 ? wall : exp(-i * p!);
          residuals[i] = value - exp(-i * 0.3);
          if (jacobian !== undefined) jacobian[i] = -i * value;
        }
      },
    });
    expect(refused).toBeGreaterThan(0);
    expect(fit.status).toBe('converged');
    expect(fit.parameters[0]!).toBeCloseTo(0.3, 9);
  });

  test('fails by name when there is nothing at the start', () => {
    const nothing = { points: 2, evaluate: (_p: Float64Array, r: Float64Array) => void r.fill(NaN) };
    expect(fitLeastSquares({ ...nothing, start: [1] })).toEqual({
      status: 'failed',
      reason: 'not finite at the start',
    });
    expect(fitLeastSquares({ ...linear([ones], y), start: [NaN] }).status).toBe('failed');
  });

  test('stops after the steps it was allowed, with the best point so far', () => {
    const fit = reach({ ...valley, start: [-1.2, 1], maxIterations: 3 });
    expect(fit).toMatchObject({ status: 'stopped', reason: 'iterations', iterations: 3 });
    expect(fit.residualSumOfSquares).toBeLessThan(24.2);
    expect(reach({ ...valley, start: [-1.2, 1], maxIterations: 0 }).parameters).toEqual(Float64Array.of(-1.2, 1));
  });

  test('ends at once on an exact start', () => {
    expect(reach({ ...valley, start: [1, 1] })).toMatchObject({
      reason: 'exact',
      iterations: 0,
      residualSumOfSquares: 0,
    });
  });

  test('is not moved by the units of a parameter', () => {
    const units = 1e9;
    const plain = reach({ ...valley, start: [-1.2, 1] });
    const scaled = reach({
      points: 2,
      start: [-1.2 * units, 1],
      evaluate(p, residuals, jacobian) {
        valley.evaluate(Float64Array.of(p[0]! / units, p[1]!), residuals, jacobian);
        if (jacobian !== undefined) for (let i = 0; i < 2; i++) jacobian[i] = jacobian[i]! / units;
      },
    });
    expect(scaled.iterations).toBe(plain.iterations);
    expect(scaled.parameters[0]! / units).toBeCloseTo(1, 9);
  });

  test('refuses fewer points than parameters, and a lower bound above the upper', () => {
    const refusal = expect.objectContaining({ code: 'option-invalid' });
    expect(() => fitLeastSquares({ ...linear([ones], y), points: 0, start: [1] })).toThrow(refusal);
    expect(() => fitLeastSquares({ ...linear([ones], y), start: [1], lower: [2], upper: [1] })).toThrow(refusal);
  });
});
