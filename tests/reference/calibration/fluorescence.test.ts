import { describe, expect, test } from 'vitest';
import { fitCalibration, predictAmount } from '../../../src/index.js';

/*
 * Fluorescence of seven standards (x in pg/mL): the worked example of J. N.
 * Miller and J. C. Miller, Statistics and Chemometrics for Analytical Chemistry;
 * data and rounded figures from memory of the book, the further digits computed
 * outside this project.
 */
const x = [0, 2, 4, 6, 8, 10, 12];
const y = [2.1, 5.0, 9.0, 12.6, 17.3, 21.0, 24.7];
const points = x.map((concentration, i) => ({ concentration, response: y[i]! }));
const line = fitCalibration(points, { concentrationUnit: 'pg/mL', responseUnit: 'mAU s' });

describe('the fluorescence line', () => {
  test('has slope, intercept and their uncertainties', () => {
    expect(line.slope.value).toBeCloseTo(1.930357143, 9);
    expect(line.intercept.value).toBeCloseTo(1.517857143, 9);
    expect(line.slope.standardUncertainty).toBeCloseTo(0.040900264, 9);
    expect(line.intercept.standardUncertainty).toBeCloseTo(0.294936001, 9);
    expect(line.residualStandardDeviation).toBeCloseTo(0.432847713, 9);
    expect(Math.sqrt(line.rSquared!.value)).toBeCloseTo(0.998879565, 9);
    expect(line.sumOfSquares).toBeCloseTo(112, 11);
    expect(line.coverageFactor).toBeCloseTo(2.570582, 6);
    expect(line.slope.interval[1] - line.slope.value).toBeCloseTo(0.105137477, 9);
    expect(line.intercept.interval[1] - line.intercept.value).toBeCloseTo(0.758157128, 9);
    expect(((line.coverageFactor * line.slope.standardUncertainty) / line.slope.value) ** 2).toBeCloseTo(
      0.00296646868,
      11,
    );
  });

  test('has the residuals and the back-calculated values', () => {
    const residuals = [0.582142857, -0.378571429, -0.239285714, -0.5, 0.339285714, 0.178571429, 0.017857143];
    line.points.forEach((point, i) => {
      expect(point.residual).toBeCloseTo(residuals[i]!, 9);
    });
    expect(line.points[0]!.relativeError).toBeUndefined();
    const percent = [90.194265, 96.901018, 95.68301, 102.19704, 100.925069, 100.077089];
    line.points.slice(1).forEach((point, i) => {
      expect(point.relativeError! + 100).toBeCloseTo(percent[i]!, 6);
    });
  });

  test.each([
    [2.9, 1, 0.7160037, 0.264569771, 0.680098248, 0.018991593, 1.381572914],
    [13.5, 1, 6.207215541, 0.239754223, 0.61630785, 5.590607743, 6.825056394],
    [23.0, 1, 11.128584644, 0.263193259, 0.676559812, 10.46610635, 11.82158104],
    [2.9, 4, 0.7160037, 0.179686377, 0.461898536, 0.237430008, 1.163134499],
    [13.5, 4, 6.207215541, 0.140613362, 0.361458154, 5.845836067, 6.56982807],
    [23.0, 4, 11.128584644, 0.177653376, 0.456672541, 10.686237811, 11.60144958],
  ])('reads %d, mean of %d, back with both intervals', (response, m, value, uncertainty, half, from, to) => {
    const read = predictAmount(line, new Float64Array(m).fill(response));
    if (read.outcome === 'not determinable') throw new Error(read.reason);
    expect(read.outcome).toBe('in range');
    expect(read.result.of).toBe('concentration');
    expect(read.result.value).toBeCloseTo(value, 9);
    expect(read.result.standardUncertainty).toBeCloseTo(uncertainty, 9);
    expect(read.result.intervals.delta.to - value).toBeCloseTo(half, 8);
    expect(read.result.interval?.method).toBe('Fieller');
    expect(read.result.interval?.from).toBeCloseTo(from, 8);
    expect(read.result.interval?.to).toBeCloseTo(to, 8);
  });
});

/*
 * Silver by standard additions, same book, from memory: the amount is intercept
 * over slope, which is what an intercept in volume is for one standard. Here one
 * additional unit is one microlitre of a standard of 1 mg/L.
 */
test('the intercept in volume has the value and the uncertainty of a standard addition', () => {
  const added = [0, 5, 10, 15, 20, 25, 30];
  const signal = [0.32, 0.41, 0.52, 0.6, 0.7, 0.77, 0.89];
  const silver = fitCalibration(
    added.map((volume, i) => ({ concentration: 1, volume, response: signal[i]! })),
    { concentrationUnit: 'mg/L', responseUnit: 'AU' },
  );
  expect(silver.units.amount).toBe('ng');
  expect(silver.intercept.value).toBeCloseTo(0.321785714, 9);
  expect(silver.slope.value).toBeCloseTo(0.018642857, 9);
  expect(silver.residualStandardDeviation).toBeCloseTo(0.0109218, 8);
  expect(silver.volumeOffset?.value).toBeCloseTo(17.260536398, 8);
  expect(silver.volumeOffset?.standardUncertainty).toBeCloseTo(0.747870636, 8);
  expect(silver.volumeOffset?.significant).toBe(true);
  expect(silver.coverageFactor * silver.volumeOffset!.standardUncertainty).toBeCloseTo(1.922462673, 8);
});
