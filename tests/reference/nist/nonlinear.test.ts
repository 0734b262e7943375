import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { exp, fitLeastSquares, type ReachedFit } from '../../../src/numeric/index.js';

interface DataSet {
  readonly data: { readonly x: readonly number[]; readonly y: readonly number[] };
  readonly start1: readonly number[];
  readonly start2: readonly number[];
  readonly certified: {
    readonly parameters: readonly { readonly name: string; readonly value: number; readonly sd: number }[];
    readonly residualSumOfSquares: number;
    readonly residualSd: number;
  };
}
/** Value of the model at x; fills in the derivatives by the parameters. */
type Model = (x: number, b: Float64Array, d: Float64Array) => number;

/** b[k] exp(-b[k + 1] x) */
function decay(x: number, b: Float64Array, d: Float64Array, k: number): number {
  d[k] = exp(-b[k + 1]! * x);
  d[k + 1] = -x * b[k]! * d[k];
  return b[k]! * d[k];
}

/** b[k] exp(-((x - b[k + 1]) / b[k + 2])²) */
function hump(x: number, b: Float64Array, d: Float64Array, k: number): number {
  const u = (x - b[k + 1]!) / b[k + 2]!;
  d[k] = exp(-u * u);
  d[k + 1] = (2 * b[k]! * d[k] * u) / b[k + 2]!;
  d[k + 2] = d[k + 1]! * u;
  return b[k]! * d[k];
}

const humps: Model = (x, b, d) => decay(x, b, d, 0) + hump(x, b, d, 2) + hump(x, b, d, 5);
const decays: Model = (x, b, d) => decay(x, b, d, 0) + decay(x, b, d, 2) + decay(x, b, d, 4);

/** Quotient of two polynomials of degree 3, the constant below 1. */
const quotient: Model = (x, b, d) => {
  const powers = [1, x, x * x, x * x * x];
  const above = powers.reduce((sum, power, k) => sum + b[k]! * power, 0);
  const below = powers.reduce((sum, power, k) => sum + (k === 0 ? 1 : b[3 + k]!) * power, 0);
  powers.forEach((power, k) => {
    d[k] = power / below;
    if (k > 0) d[3 + k] = (-above * power) / (below * below);
  });
  return above / below;
};

/** b1 + b2 exp(-x b4) + b3 exp(-x b5) */
const twoDecays: Model = (x, b, d) => {
  const [first, second] = [exp(-x * b[3]!), exp(-x * b[4]!)];
  d.set([1, first, second, -x * b[1]! * first, -x * b[2]! * second]);
  return b[0]! + b[1]! * first + b[2]! * second;
};

function digits(found: number, certified: number): number {
  return Math.min(15, -Math.log10(Math.max(1e-16, Math.abs(found / certified - 1))));
}

function fit(model: Model, { data }: DataSet, start: readonly number[]): ReachedFit {
  const points = data.x.length;
  const derivatives = new Float64Array(start.length);
  const found = fitLeastSquares({
    points,
    start,
    maxIterations: 1000,
    evaluate(parameters, residuals, jacobian) {
      data.x.forEach((x, i) => {
        residuals[i] = model(x, parameters, derivatives) - data.y[i]!;
        derivatives.forEach((value, j) => {
          if (jacobian !== undefined) jacobian[j * points + i] = value;
        });
      });
    },
  });
  if (found.status === 'failed') throw new Error(found.reason);
  return found;
}

describe('fitLeastSquares reaches the certified values of NIST StRD', () => {
  // Thurber: values near 1000 with residuals near 10 leave 1e-14 of the sum of squares to rounding, 1e-7 of a parameter.
  const sets: readonly (readonly [string, Model, number])[] = [
    ['Gauss1', humps, 8],
    ['Gauss2', humps, 8],
    ['Gauss3', humps, 8],
    ['Lanczos3', decays, 8],
    ['Thurber', quotient, 7],
    ['Hahn1', quotient, 8],
    ['MGH17', twoDecays, 8],
  ];
  test.each(
    sets.flatMap(([name, model, least]) =>
      (['start1', 'start2'] as const).map((s) => [name, s, model, least] as const),
    ),
  )('%s from %s', (name, start, model, least) => {
    const set = JSON.parse(readFileSync(new URL(`${name}.json`, import.meta.url), 'utf8')) as DataSet;
    const found = fit(model, set, set[start]);
    const { parameters, residualSumOfSquares, residualSd } = set.certified;
    const p = parameters.length;
    const variance = found.residualSumOfSquares / found.degreesOfFreedom;
    expect(found.status).toBe('converged');
    parameters.forEach(({ value, sd }, j) => {
      expect(digits(found.parameters[j]!, value)).toBeGreaterThan(least);
      const error = Math.sqrt(variance * found.unscaledCovariance![j * p + j]!);
      expect(digits(error, sd)).toBeGreaterThan(least - 1);
    });
    expect(digits(found.residualSumOfSquares, residualSumOfSquares)).toBeGreaterThan(8);
    expect(digits(Math.sqrt(variance), residualSd)).toBeGreaterThan(8);
  });
});
