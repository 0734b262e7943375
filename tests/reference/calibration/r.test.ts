import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { fitCalibration, predictAmount, type DeterminedPrediction, type Prediction } from '../../../src/index.js';
import { coverageFactor, fUpperTail, studentTUpperQuantile, studentTUpperTail } from '../../../src/numeric/index.js';
import { logBeta } from '../../../src/numeric/log-beta.js';

interface Line {
  readonly x: number[];
  readonly y: number[];
  readonly coefficients: [number, number];
  readonly covariance: [number, number, number];
  readonly sigma: number;
  readonly rSquared: number;
  readonly confint90: [number, number, number, number];
  readonly leverage: number[];
  readonly residuals: number[];
  readonly readings: { response: number; m: number; found: [number, number, number] }[];
}

interface Reference {
  readonly lines: Record<string, Line>;
  readonly ratios: { response: number; m: number; volume: number; found: [number, number, number] }[];
  readonly studentT: { tail: number[]; at: number[]; rows: { df: number; quantiles: number[]; tails: number[] }[] };
  readonly f: {
    tail: number[];
    at: number[];
    rows: { d1: number; d2: number; quantiles: number[]; tails: number[] }[];
  };
  readonly normal: { at: number[]; tails: number[]; p: number[]; quantiles: number[] };
  readonly logBeta: [number, number, number][];
}

const reference = JSON.parse(readFileSync(new URL('r-reference.json', import.meta.url), 'utf8')) as Reference;

/** Relative agreement; values of 0 must be met to `tolerance` itself. */
function expectNear(found: number, wanted: number, tolerance: number): void {
  const scale = wanted === 0 ? 1 : Math.abs(wanted);
  expect(Math.abs(found - wanted) / scale, `${found} against ${wanted}`).toBeLessThan(tolerance);
}

function determined(prediction: Prediction): DeterminedPrediction {
  if (prediction.outcome === 'not determinable') throw new Error(prediction.reason);
  return prediction;
}

describe.each(Object.entries(reference.lines))('the line %s', (_, line) => {
  const points = line.x.map((amount, i) => ({ amount, response: line.y[i]! }));
  const fit = fitCalibration(points, { amountUnit: 'ng', responseUnit: 'mAU s', confidence: 0.9 });

  test('is the one lm() of R finds, with its covariance, residuals and leverages', () => {
    expectNear(fit.intercept.value, line.coefficients[0], 1e-11);
    expectNear(fit.slope.value, line.coefficients[1], 1e-13);
    expectNear(fit.intercept.standardUncertainty ** 2, line.covariance[0], 1e-12);
    expectNear(fit.covariance, line.covariance[1], 1e-12);
    expectNear(fit.slope.standardUncertainty ** 2, line.covariance[2], 1e-12);
    expectNear(fit.residualStandardDeviation, line.sigma, 1e-12);
    expectNear(fit.rSquared!.value, line.rSquared, 1e-13);
    const [a, b, c, d] = line.confint90;
    [...fit.intercept.interval, ...fit.slope.interval].forEach((end, i) => {
      expectNear(end, [a, b, c, d][i]!, 1e-10);
    });
    fit.points.forEach((point, i) => {
      expect(point.residual).toBeCloseTo(line.residuals[i]!, 10);
      expect(point.leverage).toBeCloseTo(line.leverage[i]!, 12);
    });
  });

  test('reads responses back to the limits where the band of predict.lm meets them', () => {
    const scale = Math.max(...line.x);
    for (const { response, m, found } of line.readings) {
      const read = determined(predictAmount(fit, new Array<number>(m).fill(response), { confidence: 0.95 }));
      // uniroot stops at about 1e-12 of the range
      [read.result.value, read.result.interval!.from, read.result.interval!.to].forEach((end, i) => {
        expect(Math.abs(end - found[i]!) / scale).toBeLessThan(1e-10);
      });
    }
  });
});

test('an unknown compared with the standard at its own volume has the limits found from the band of predict.lm', () => {
  const { x, y } = reference.lines['volumes']!;
  const points = x.map((amount, i) => ({ concentration: 25, volume: amount / 25, response: y[i]! }));
  const fit = fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
  for (const { response, m, volume, found } of reference.ratios) {
    const responses = new Array<number>(m).fill(response);
    const read = determined(predictAmount(fit, responses, { volume, intercept: 'injected volume' }));
    const { value, interval } = read.concentration!;
    [value, interval!.from, interval!.to].forEach((end, i) => {
      expectNear(end, 25 * found[i]!, 1e-10);
    });
  }
});

describe('distributions', () => {
  test('Student t agrees with R', () => {
    const { tail, at, rows } = reference.studentT;
    for (const { df, quantiles, tails } of rows) {
      tail.forEach((p, i) => {
        expectNear(studentTUpperQuantile(p, df), quantiles[i]!, 2e-12);
      });
      at.forEach((t, i) => {
        if (tails[i]! > 1e-290) expectNear(studentTUpperTail(t, df), tails[i]!, 5e-12);
      });
    }
  });

  test('F agrees with R', () => {
    const { tail, at, rows } = reference.f;
    for (const { d1, d2, quantiles, tails } of rows) {
      tail.forEach((p, i) => {
        expectNear(fUpperTail(quantiles[i]!, d1, d2), p, 5e-12);
      });
      at.forEach((f, i) => {
        if (tails[i]! > 1e-290) expectNear(fUpperTail(f, d1, d2), tails[i]!, 5e-12);
      });
    }
  });

  test('with infinitely many degrees of freedom Student t agrees with the normal distribution of R', () => {
    const { at, tails, p, quantiles } = reference.normal;
    at.forEach((z, i) => {
      if (z >= 0) expectNear(studentTUpperTail(z, Infinity), tails[i]!, 5e-13);
    });
    p.forEach((share, i) => {
      if (share <= 0.5) expectNear(studentTUpperQuantile(share, Infinity), -quantiles[i]!, 1e-13);
    });
  });

  test('the logarithm of the beta function agrees with R', () => {
    for (const [a, b, value] of reference.logBeta) expectNear(logBeta(a, b), value, 1e-13);
  });

  /*
   * Two-sided and one-sided 95 % points of Student's t and 95 % points of F as
   * they stand in handbook tables, to seven or eight figures.
   */
  test.each([
    [1, 12.706205],
    [2, 4.302653],
    [3, 3.182446],
    [4, 2.776445],
    [5, 2.570582],
    [6, 2.446912],
    [8, 2.306004],
    [10, 2.228139],
    [20, 2.085963],
    [30, 2.042272],
    [100, 1.983972],
  ])('the factor of a two-sided 95 %% interval with %d degrees of freedom is %d', (v, factor) => {
    expect(coverageFactor(0.95, v)).toBeCloseTo(factor, 6);
  });

  test.each([
    [2, 2.919986],
    [3, 2.353363],
    [4, 2.131847],
    [5, 2.015048],
  ])('the one-sided 95 %% point of t with %d degrees of freedom is %d', (v, point) => {
    expect(studentTUpperQuantile(0.05, v)).toBeCloseTo(point, 6);
  });

  test.each([
    [1, 3, 10.127964],
    [1, 5, 6.607891],
    [2, 8, 4.45897],
    [3, 10, 3.708265],
    [4, 12, 3.259167],
  ])('the 95 %% point of F(%d, %d) is %d', (d1, d2, point) => {
    // the table ends at the sixth decimal
    expect(fUpperTail(point - 1e-6, d1, d2)).toBeGreaterThan(0.05);
    expect(fUpperTail(point + 1e-6, d1, d2)).toBeLessThan(0.05);
  });
});
