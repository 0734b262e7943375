import { Matrix, QrDecomposition } from 'ml-matrix';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { solveLeastSquares } from '../../../src/numeric/index.js';

interface DataSet {
  readonly data: { readonly x: readonly (number | readonly number[])[]; readonly y: readonly number[] };
  readonly certified: {
    readonly parameters: readonly { readonly name: string; readonly value: number; readonly sd: number }[];
    readonly residualSumOfSquares: number;
    readonly residualSd: number;
    readonly degreesOfFreedom: number;
  };
}

function load(name: string): DataSet {
  return JSON.parse(readFileSync(new URL(`${name}.json`, import.meta.url), 'utf8')) as DataSet;
}

/** Ones for the intercept, then the predictors as they stand (Longley) or powers of x. */
function columnsOf({ data, certified }: DataSet): Float64Array[] {
  return certified.parameters.map(({ name }) => {
    const j = Number(name.slice(1));
    return Float64Array.from(data.x, (x) => (j === 0 ? 1 : typeof x === 'number' ? x ** j : x[j - 1]!));
  });
}

/** Correct digits: -log10 of the relative error, of the absolute one for a certified 0; 15 at most. */
function digits(found: number, certified: number): number {
  const error = certified === 0 ? Math.abs(found) : Math.abs(found / certified - 1);
  return error === 0 ? 15 : Math.min(15, -Math.log10(error));
}

/*
 * NIST Statistical Reference Datasets, linear regression. The digits asked for
 * are what double precision allows: the powers of x in Filip (degree 10) and
 * Wampler (degree 5, with ever larger residuals in 3, 4 and 5) are nearly
 * dependent. Straight lines and the parabola keep 12 and more.
 */
const cases = [
  { name: 'Norris', coefficients: 12.5, uncertainties: 13 },
  { name: 'Pontius', coefficients: 11.5, uncertainties: 13 },
  { name: 'NoInt1', coefficients: 14, uncertainties: 14 },
  { name: 'NoInt2', coefficients: 14, uncertainties: 14 },
  { name: 'Longley', coefficients: 12.5, uncertainties: 13 },
  { name: 'Filip', coefficients: 6.5, uncertainties: 6.5 },
  { name: 'Wampler1', coefficients: 9, uncertainties: 9 },
  { name: 'Wampler2', coefficients: 12.5, uncertainties: 12.5 },
  { name: 'Wampler3', coefficients: 9, uncertainties: 11 },
  { name: 'Wampler4', coefficients: 7.5, uncertainties: 11 },
  { name: 'Wampler5', coefficients: 5.5, uncertainties: 11 },
];

describe('least squares against certified data', () => {
  test.each(cases)('$name: $coefficients digits of the coefficients, $uncertainties of their uncertainties', (want) => {
    const set = load(want.name);
    const { parameters, residualSumOfSquares, residualSd, degreesOfFreedom } = set.certified;
    const fit = solveLeastSquares(columnsOf(set), Float64Array.from(set.data.y));
    expect(fit.status).toBe('solved');
    expect(fit.degreesOfFreedom).toBe(degreesOfFreedom);
    const variance = fit.residualSumOfSquares / fit.degreesOfFreedom;
    parameters.forEach(({ value, sd }, i) => {
      expect(digits(fit.coefficients[i]!, value)).toBeGreaterThan(want.coefficients);
      if (sd === 0) return; // an exact fit: Wampler1 and Wampler2
      const uncertainty = Math.sqrt(variance * fit.unscaledCovariance[i * (parameters.length + 1)]!);
      expect(digits(uncertainty, sd)).toBeGreaterThan(want.uncertainties);
    });
    if (residualSumOfSquares === 0) return;
    expect(digits(fit.residualSumOfSquares, residualSumOfSquares)).toBeGreaterThan(want.uncertainties - 0.5);
    expect(digits(Math.sqrt(variance), residualSd)).toBeGreaterThan(want.uncertainties - 0.5);
  });

  // a general-purpose library as the second opinion, on the same columns
  test.each(['Norris', 'Pontius', 'Longley', 'Wampler2'])(
    '%s: at most one digit behind the QR of a general library',
    (name) => {
      const set = load(name);
      const columns = columnsOf(set);
      const rows = set.data.y.map((_, i) => columns.map((column) => column[i]!));
      const other = new QrDecomposition(new Matrix(rows)).solve(Matrix.columnVector([...set.data.y])).to1DArray();
      const { coefficients } = solveLeastSquares(columns, Float64Array.from(set.data.y));
      const worst = (found: ArrayLike<number>): number =>
        Math.min(...set.certified.parameters.map(({ value }, i) => digits(found[i]!, value)));
      expect(worst(coefficients)).toBeGreaterThan(worst(other) - 1);
    },
  );
});
