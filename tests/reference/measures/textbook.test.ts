import { describe, expect, test } from 'vitest';
import {
  measureMoments,
  platesFoleyDorsey,
  platesHalfHeight,
  platesMoments,
  platesTangent,
  resolutionHalfHeight,
  resolutionTangent,
} from '../../../src/index.js';
import { normalRange } from '../../../src/measures/normal-range.js';
import { threePoints } from '../../../src/numeric/index.js';
import { emg, emgTable, sample } from './reference-peaks.js';

describe('formulas reproduce worked textbook examples', () => {
  // Skoog, Holler, Crouch, Principles of Instrumental Analysis, two-solute example (inputs from memory):
  // the book prints plates of mean 3445 and a resolution of 1.06.
  test('Skoog, Holler and Crouch: two solutes on 30 cm', () => {
    expect(platesTangent(16.4, 1.11)).toBeCloseTo(3492.7035, 4);
    expect(platesTangent(17.63, 1.21)).toBeCloseTo(3396.674, 4);
    expect(Math.round((platesTangent(16.4, 1.11) + platesTangent(17.63, 1.21)) / 2)).toBe(3445);
    expect(resolutionTangent(16.4, 17.63, 1.11, 1.21)).toBeCloseTo(1.060345, 6);
  });

  // Skoog problem 26-14, figures of a university's key: 2775, 2472, 2365 (mis-rounded there), 2523.
  test.each([
    [5.4, 0.41, 2775.491],
    [13.3, 1.07, 2472.041],
    [14.1, 1.16, 2363.971],
    [21.6, 1.72, 2523.31],
  ])('Skoog problem 26-14: a peak at %d with base width %d', (time, width, plates) => {
    expect(platesTangent(time, width)).toBeCloseTo(plates, 3);
  });

  test('Skoog problem 26-14: resolution of B and C', () => {
    expect(resolutionTangent(13.3, 14.1, 1.07, 1.16)).toBeCloseTo(0.717489, 6);
  });

  // Christian, Dasgupta, Schug, Analytical Chemistry (attribution from memory).
  test('Christian, Dasgupta and Schug: two solutes on 30 cm', () => {
    expect(platesTangent(15.8, 1.25)).toBeCloseTo(2556.3136, 4);
    expect(platesTangent(17.23, 1.38)).toBeCloseTo(2494.2063, 4);
    expect(resolutionTangent(15.8, 17.23, 1.25, 1.38)).toBeCloseTo(1.087452, 6);
  });

  // End-of-chapter problem, probably Fifield and Kealey (attribution from memory): distances on chart paper in mm.
  test('aspirin and caffeine: the two definitions of resolution differ by a third on real peaks', () => {
    expect(platesTangent(75, 6.5)).toBeCloseTo(2130.1775, 4);
    expect(platesTangent(86, 8.1)).toBeCloseTo(1803.6275, 4);
    expect(platesHalfHeight(75, 3, 5.54)).toBeCloseTo(3462.5, 6);
    expect(platesHalfHeight(86, 3.25, 5.54)).toBeCloseTo(3879.1801, 4);
    expect(platesHalfHeight(75, 3)).toBeCloseTo(3465.7359, 4);
    expect(platesHalfHeight(86, 3.25)).toBeCloseTo(3882.8054, 4);
    expect(resolutionTangent(75, 86, 6.5, 8.1)).toBeCloseTo(1.506849, 6);
    expect(resolutionHalfHeight(75, 86, 3, 3.25, 1.18)).toBeCloseTo(2.0768, 6);
    expect(resolutionHalfHeight(75, 86, 3, 3.25)).toBeCloseTo(2.072242, 6);
  });

  // Harris, Quantitative Chemical Analysis (from memory): the book prints 1.57e4 plates and a resolution of 1.17.
  test('Harris: octane and nonane', () => {
    expect(platesTangent(407, 13)).toBeCloseTo(15682.7456, 4);
    expect(resolutionTangent(407, 424, 13, 16)).toBeCloseTo(1.172414, 6);
  });

  test.each(emgTable)(
    'plates of an exponentially modified Gaussian with tau = $ratio sigma follow from its exact widths',
    (row) => {
      // The widths have nine decimals, so that plates keep seven digits.
      const close = (received: number | undefined, expected: number): void => {
        expect(Math.abs(received! / expected - 1)).toBeLessThan(2e-7);
      };
      close(platesHalfHeight(row.mode, row.half), row.nHalf);
      close(platesTangent(row.mode, row.tangent), row.nTangent);
      const foleyDorsey = platesFoleyDorsey(row.mode, row.tenth, row.asymmetry);
      if (row.nFoleyDorsey === undefined) expect(foleyDorsey).toBeUndefined();
      else expect(Math.abs(foleyDorsey! / row.nFoleyDorsey - 1)).toBeLessThan(5e-7);
      const mean = 5 + row.ratio * 0.05;
      close(platesMoments(mean, 0.0025 * (1 + row.ratio ** 2)), row.nMoments);
    },
  );
});

describe('sampled-data rules', () => {
  // A Gaussian at 5.0037 min, sigma 0.05 min, height 100, on multiples of the step: double-precision evaluation of the
  // textbook three-point parabola.
  test.each([
    [0.01, 5.00368323, 99.99301541],
    [0.02, 5.00357329, 99.97003614],
    [0.05, 5.00286647, 99.85499644],
  ])('the parabola through three samples %d min apart has its known bias', (step, time, height) => {
    const record = sample((t) => 100 * Math.exp(-0.5 * ((t - 5.0037) / 0.05) ** 2), 4.5, 5.5, step);
    const apex = threePoints(record.time, record.signal, record.signal.indexOf(Math.max(...record.signal)));
    expect(apex.time).toBeCloseTo(time, 7);
    expect(apex.height).toBeCloseTo(height, 7);
  });
});

describe('moments', () => {
  // EMG, mu 5, sigma 0.05, tau 0.05, area 1, step 0.01, trapezoidal rule; closed forms of Grushka (1972), from memory.
  const f = (t: number): number => emg(t, 5, 0.05, 0.05);

  test('of a whole exponentially modified Gaussian are those of the closed form', () => {
    const { time, signal } = sample(f, 4.5, 7, 0.01);
    const m = measureMoments(time, signal, 5.03)!;
    expect(m.zeroth).toBeCloseTo(1, 9);
    expect(m.mean).toBeCloseTo(5.05, 9);
    expect(m.variance).toBeCloseTo(0.005, 9);
    expect(m.third).toBeCloseTo(0.00025, 9);
    expect(m.fourth).toBeCloseTo(0.0001125, 9);
    expect(m.skew).toBeCloseTo(0.70710678, 6);
    expect(m.excess).toBeCloseTo(1.5, 5);
  });

  test('of one cut at 4.80 and 5.60 min are those of the cut curve', () => {
    const { time, signal } = sample(f, 4.8, 5.6, 0.01);
    const m = measureMoments(time, signal, 5.03)!;
    expect(m.zeroth).toBeCloseTo(0.9999836119, 9);
    expect(m.mean).toBeCloseTo(5.0499955208, 9);
    expect(m.variance).toBeCloseTo(0.00499598113, 10);
    expect(m.third).toBeCloseTo(0.0002479403866, 12);
    expect(m.fourth).toBeCloseTo(0.0001111014974, 12);
    expect(m.skew).toBeCloseTo(0.70212767, 7);
    expect(m.excess).toBeCloseTo(1.45121256, 7);
    expect(platesMoments(m.mean, m.variance)).toBeCloseTo(5104.593892, 3);
  });

  // Closed form of the truncated normal distribution: share of the area and of the variance within k sigma.
  test.each([
    [2, 0.9544997361, 0.7737413036],
    [3, 0.9973002039, 0.9733369247],
    [5, 0.9999994267, 0.9999851328],
  ])('of a Gaussian cut at %d sigma lose what the truncated normal loses', (k, area, variance) => {
    const { time, signal } = sample((t) => emg(t, 5, 0.05, 0), 5 - k * 0.05, 5 + k * 0.05, 0.0001);
    const m = measureMoments(time, signal, 5)!;
    // The trapezoidal rule on a cut curve is right to the square of the step, here (1/500 sigma)².
    expect(m.zeroth).toBeCloseTo(area, 6);
    expect(m.variance / 0.0025).toBeCloseTo(variance, 5);
  });
});

test('the range of n normal values agrees with the statistical tables', () => {
  // Expected range over sigma, the constant d2 of control charts for small n; numerical integration for the rest.
  const table = [
    [2, 1.128379],
    [20, 3.73495],
    [50, 4.498147],
    [100, 5.015187],
    [200, 5.492085],
    [500, 6.073399],
    [1000, 6.482872],
    [2000, 6.870674],
    [5000, 7.355118],
  ] as const;
  for (const [n, range] of table) expect(Math.abs(normalRange(n) / range - 1)).toBeLessThan(0.003);
});
