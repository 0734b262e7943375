import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { fitLeastSquares } from '../../../src/numeric/index.js';
import { emgFamily } from '../../../src/shapes/index.js';

function load(name: string): unknown {
  return JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8'));
}

const { rows } = load('./emg-derivatives.json') as { rows: number[][] };
const example = load('./emg-fit.json') as {
  time: number[];
  signal: number[];
  start: number[];
  parameters: number[];
  standardErrors: number[];
  residualSumOfSquares: number;
};

describe('the exponentially modified Gaussian in a fit', () => {
  test.each(rows)('tau %d has at %d the value and derivatives of 60-digit arithmetic', (tau, t, ...expected) => {
    const jacobian = new Float64Array(4);
    emgFamily.evaluate([t], 0, 1, [1, 0, 1, tau], 0, new Float64Array(1), jacobian);
    // A derivative passes through 0: errors count against the value there.
    for (let j = 0; j < 4; j++) {
      expect(Math.abs(jacobian[j]! - expected[j]!)).toBeLessThan(
        2e-13 * Math.max(Math.abs(expected[j]!), Math.abs(expected[0]!)),
      );
    }
  });

  test('with a straight baseline has the parameters and standard errors of scipy.optimize.curve_fit', () => {
    const { time, signal, start } = example;
    const n = time.length;
    const fit = fitLeastSquares({
      points: n,
      start,
      evaluate(p, residuals, jacobian) {
        for (let i = 0; i < n; i++) {
          residuals[i] = p[4]! + p[5]! * time[i]! - signal[i]!;
          if (jacobian === undefined) continue;
          jacobian[4 * n + i] = 1;
          jacobian[5 * n + i] = time[i]!;
        }
        emgFamily.evaluate(time, 0, n, p, 0, residuals, jacobian);
      },
    });
    if (fit.status === 'failed') throw new Error(fit.reason);
    expect(fit.status).toBe('converged');
    const variance = fit.residualSumOfSquares / fit.degreesOfFreedom;
    example.parameters.forEach((expected, j) => {
      // The fit of scipy takes its derivatives from differences: 1e-7 of a standard error is what they leave.
      expect(Math.abs(fit.parameters[j]! - expected) / example.standardErrors[j]!).toBeLessThan(1e-5);
      const error = Math.sqrt(variance * fit.unscaledCovariance![j * 6 + j]!);
      expect(Math.abs(error / example.standardErrors[j]! - 1)).toBeLessThan(1e-5);
    });
    expect(Math.abs(fit.residualSumOfSquares / example.residualSumOfSquares - 1)).toBeLessThan(1e-10);
  });
});
