import { describe, expect, test } from 'vitest';
import {
  emg,
  emgWithSlowTail,
  exponentialGaussianHybrid,
  haarhoffVanDerLinde,
  logNormal,
  polynomialGaussian,
  splitGaussian,
} from '../../../src/index.js';
import {
  emgFamily,
  emgWithSlowTailFamily,
  exponentialGaussianHybridFamily,
  gaussianFamily,
  haarhoffVanDerLindeFamily,
  logNormalFamily,
  polynomialGaussianFamily,
  splitGaussianFamily,
  type PeakFamily,
} from '../../../src/shapes/index.js';

/** Every family with parameters that reach its limits; the scale of x is about 1. */
const cases: readonly (readonly [PeakFamily, readonly number[]])[] = [
  [gaussianFamily, [3, 0.2, 0.7]],
  [splitGaussianFamily, [3, 0.2, 0.7, 1.3]],
  [splitGaussianFamily, [-3, 0.2, 1.3, 0.7]],
  ...[-5, -1, -0.19, -0.01, -1e-4, 0, 1e-9, 1e-3, 0.1, 0.2, 0.21, 0.5, 1, 3, 20].map(
    (tau) => [emgFamily, [3, 0.2, 1.1, tau]] as const,
  ),
  ...[-0.5, -0.3, -1e-3, -1e-10, 0, 1e-12, 1e-5, 0.02, 0.3, 0.5].map(
    (a) => [logNormalFamily, [3, 0.2, 1.9, a]] as const,
  ),
  ...[-30, -2, -0.5, -1e-6, 0, 1e-9, 1e-3, 0.49, 0.51, 2, 20, 60, 100].map(
    (k) => [haarhoffVanDerLindeFamily, [3, 0.2, 0.9, k]] as const,
  ),
  [emgWithSlowTailFamily, [3, 0.2, 0.9, 0.3, 0.05, 3]],
  [emgWithSlowTailFamily, [3, 0.2, 0.9, 0, 0.2, 4]],
  [emgWithSlowTailFamily, [3, 0.2, 0.9, -0.5, 0.1, 2]],
  ...[-0.2, 0, 1e-8, 0.1, 0.25].map((s) => [polynomialGaussianFamily, [3, 0.2, 0.8, s, 0.01]] as const),
  [polynomialGaussianFamily, [3, 0.2, 0.8, 0.1, -0.1]],
  ...[-1, -0.1, -1e-9, 0, 1e-5, 0.3, 2].map((tau) => [exponentialGaussianHybridFamily, [3, 0.2, 0.9, tau]] as const),
];
const named = cases.map(([family, parameters]) => [family.name, parameters.join(' '), family, parameters] as const);

function valueOf(family: PeakFamily, x: number, parameters: readonly number[]): number {
  const value = new Float64Array(1);
  family.evaluate([x], 0, 1, parameters, 0, value);
  return value[0]!;
}

/** Zeroth to third moment by trapezia on a fine grid about the apex. */
function quadrature(family: PeakFamily, parameters: readonly number[]): readonly [number, number, number, number] {
  const mode = family.mode(parameters, 0);
  const step = 1 / 512;
  const count = 2 * 150 * 512;
  const time = Float64Array.from({ length: count }, (_, i) => mode + (i - count / 2) * step);
  // The front of an EMG with tau 20 lasts 800.
  const stretch = family === emgFamily ? Math.max(1, Math.abs(parameters[3]!) / 3) : 1;
  const places = time.map((x) => mode + (x - mode) * stretch);
  const value = new Float64Array(count);
  family.evaluate(places, 0, count, parameters, 0, value);
  let zeroth = 0;
  let first = 0;
  for (let i = 0; i < count; i++) {
    zeroth += value[i]!;
    first += value[i]! * (places[i]! - mode);
  }
  const mean = first / zeroth;
  let second = 0;
  let third = 0;
  for (let i = 0; i < count; i++) {
    const apart = places[i]! - mode - mean;
    second += value[i]! * apart * apart;
    third += value[i]! * apart * apart * apart;
  }
  return [zeroth * step * stretch, mode + mean, second / zeroth, third / zeroth];
}

describe('a family of peaks', () => {
  test.each(named)('%s (%s) has the derivatives of its values', (_name, _text, family, parameters) => {
    const mode = family.mode(parameters, 0);
    const time = Float64Array.from({ length: 81 }, (_, i) => mode + (i - 40.3) / 8);
    const n = time.length;
    const jacobian = new Float64Array(n * parameters.length);
    family.evaluate(time, 0, n, parameters, 0, new Float64Array(n), jacobian);
    parameters.forEach((parameter, j) => {
      // Fourth-order differences: the error of the rule and the rounding are below 1e-10 at this step.
      const h = 1e-4 * Math.max(0.25, Math.abs(parameter));
      const at = (steps: number): Float64Array => {
        const value = new Float64Array(n);
        family.evaluate(
          time,
          0,
          n,
          parameters.map((p, k) => (k === j ? p + steps * h : p)),
          0,
          value,
        );
        return value;
      };
      const [before2, before, after, after2] = [at(-2), at(-1), at(1), at(2)];
      const column = jacobian.subarray(j * n, (j + 1) * n);
      const largest = column.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      expect(largest).toBeGreaterThan(0);
      // Kinks: at the apex of the split Gaussian, where clipping begins, and at the end of the steep side.
      const kinked = family === splitGaussianFamily || family === polynomialGaussianFamily;
      for (let i = 0; i < n; i++) {
        const difference = (8 * (after[i]! - before[i]!) - (after2[i]! - before2[i]!)) / (12 * h);
        expect(Math.abs(column[i]! - difference) / largest).toBeLessThan(kinked ? 1e-5 : 5e-8);
      }
    });
  });

  test.each(named)('%s (%s) has its highest value at the apex', (_name, _text, family, parameters) => {
    const mode = family.mode(parameters, 0);
    const height = valueOf(family, mode, parameters);
    for (const apart of [-0.3, -0.01, 0.01, 0.3]) {
      expect(Math.abs(valueOf(family, mode + apart, parameters))).toBeLessThan(Math.abs(height));
    }
  });

  test.each(named)('%s (%s) has the area and moments of its values', (_name, _text, family, parameters) => {
    const [area, mean, variance, third] = quadrature(family, parameters);
    // Trapezia of step 1/512 on a smooth peak are exact; on one with a corner in its slope they err by 1e-6.
    const tolerance = family === splitGaussianFamily || family === polynomialGaussianFamily ? 2e-6 : 1e-9;
    expect(Math.abs(family.area(parameters, 0) / area - 1)).toBeLessThan(tolerance);
    if (family.moments === undefined) return;
    const moments = family.moments(parameters, 0);
    const spread = Math.sqrt(variance);
    expect(Math.abs(moments.mean - mean) / spread).toBeLessThan(tolerance);
    expect(Math.abs(moments.variance / variance - 1)).toBeLessThan(5 * tolerance);
    expect(Math.abs(moments.third - third) / (variance * spread)).toBeLessThan(20 * tolerance);
  });

  test.each(named.filter(([, , family]) => family.width !== undefined))(
    '%s (%s) has its width at every height',
    (_name, _text, family, parameters) => {
      const mode = family.mode(parameters, 0);
      for (const fraction of [0.044, 0.1, 0.5, 0.9]) {
        const { before, after, width } = family.width!(parameters, 0, fraction);
        expect(width).toBe(before + after);
        expect(valueOf(family, mode - before, parameters) / parameters[0]!).toBeCloseTo(fraction, 12);
        expect(valueOf(family, mode + after, parameters) / parameters[0]!).toBeCloseTo(fraction, 12);
      }
    },
  );

  test.each(named)('%s (%s) stays finite with its derivatives however far', (_name, _text, family, parameters) => {
    const time = [-1e300, -1e160, -1e9, -400, -60, -39, -8, 0, 8, 39, 60, 400, 1e9, 1e160, 1e300];
    const value = new Float64Array(time.length);
    const jacobian = new Float64Array(time.length * parameters.length);
    family.evaluate(time, 0, time.length, parameters, 0, value, jacobian);
    expect(value.every(Number.isFinite)).toBe(true);
    expect(jacobian.every(Number.isFinite)).toBe(true);
  });

  test.each([
    [emgFamily, [1, 0, 1, 1e90]],
    [emgFamily, [1, 0, 1, -1e90]],
    [emgFamily, [1, 0, 1, 1e-320]],
    [haarhoffVanDerLindeFamily, [1, 0, 1, 1e5]],
    [haarhoffVanDerLindeFamily, [1, 0, 1, -1e90]],
    [logNormalFamily, [1, 0, 1, 1e3]],
    [logNormalFamily, [1, 0, 1, -1e300]],
    [polynomialGaussianFamily, [1, 0, 1, 1e6, -1e6]],
    [exponentialGaussianHybridFamily, [1, 0, 1, 1e12]],
  ] as const)('$0.name stays finite at extreme shapes', (family, parameters) => {
    const time = Float64Array.from({ length: 601 }, (_, i) => (i - 300) / 3);
    const value = new Float64Array(601);
    const jacobian = new Float64Array(601 * parameters.length);
    family.evaluate(time, 0, 601, parameters, 0, value, jacobian);
    expect(value.every(Number.isFinite)).toBe(true);
    expect(jacobian.every(Number.isFinite)).toBe(true);
  });

  test.each(named)('%s (%s) adds to the rows asked for and leaves the others', (_name, _text, family, parameters) => {
    const time = [-1, 0, 1, 2];
    const value = Float64Array.from([9, 9, 9, 9]);
    const shifted = [NaN, NaN, ...parameters];
    const jacobian = new Float64Array(4 * shifted.length).fill(7);
    family.evaluate(time, 1, 3, shifted, 2, value, jacobian);
    expect(value[1]! - 9).toBeCloseTo(valueOf(family, 0, parameters), 12);
    expect([value[0], value[3]]).toEqual([9, 9]);
    expect(jacobian.every((entry, k) => entry === 7 || (k >= 8 && k % 4 > 0 && k % 4 < 3))).toBe(true);
    expect(jacobian.subarray(8).filter((entry) => entry !== 7)).toHaveLength(2 * parameters.length);
  });

  test.each(named)('%s (%s) is not there when its width is not above 0', (_name, _text, family, parameters) => {
    for (const width of [0, -1, NaN]) {
      expect(
        valueOf(
          family,
          0,
          parameters.map((p, k) => (k === 2 ? width : p)),
        ),
      ).toBeNaN();
    }
  });

  test('emg agrees with the function of one value on both sides of every change of formula', () => {
    for (const tau of [-3, -0.2, -1e-9, 0, 1e-12, 1e-4, 0.01, 0.19, 0.21, 0.3, 1, 10]) {
      for (let x = -9; x < 30; x += 0.037) {
        const expected = emg(x, { area: 2, mean: 0.3, sigma: 1, tau });
        expect(Math.abs(valueOf(emgFamily, x, [2, 0.3, 1, tau]) - expected)).toBeLessThan(1e-12 * expected + 1e-17);
      }
    }
  });
});

describe('published peak shapes', () => {
  test('the log-normal has the values of the form of Fraser and Suzuki, Anal. Chem. 41 (1969) 37-39', () => {
    const shape = { height: 1, centre: 5, width: 0.12, skew: 0.3 };
    expect(logNormal(5.05, shape)).toBeCloseTo(0.681480343584, 11);
    expect(logNormal(4.95, shape)).toBeCloseTo(0.528667891653, 11);
    expect(logNormalFamily.area([1, 5, 0.12, 0.3], 0)).toBeCloseTo(0.131950467224, 11);
    const half = logNormalFamily.width!([1, 5, 0.12, 0.3], 0, 0.5);
    expect(half.width).toBeCloseTo(0.121808117379, 11);
    expect(half.after / half.before).toBeCloseTo(1.349858807576, 11);
  });

  test.each([
    [1e-4, [5.1755002786, 7.9523554117, 4.5160640243]],
    [1e-3, [NaN, 6.0766421863, 2.4248907187]],
  ])(
    'overloaded peaks with a3 %d have the values of Haarhoff and Van der Linde, Anal. Chem. 38 (1966) 573-582',
    (a3, y) => {
      const shape = { area: 1, centre: 5, sigma: 0.05, overload: (5 * a3) / 0.05 ** 2 };
      [4.95, 5, 5.05].forEach((x, i) => {
        if (!Number.isNaN(y[i])) expect(haarhoffVanDerLinde(x, shape)).toBeCloseTo(y[i]!, 9);
        // Fronting instead of tailing: the image about the centre.
        expect(haarhoffVanDerLinde(10 - x, { ...shape, overload: -shape.overload })).toBeCloseTo(
          haarhoffVanDerLinde(x, shape),
          9,
        );
      });
    },
  );

  test('an overloaded peak with a3 1e-3 has 7.677 at 4.95', () => {
    expect(haarhoffVanDerLinde(4.95, { area: 1, centre: 5, sigma: 0.05, overload: 2 })).toBeCloseTo(7.6773963455, 9);
  });

  // Area 3, centre 0.2, sigma 0.9, overload 400: value and derivatives by centre, sigma and overload, 40-digit arithmetic.
  test.each([
    [-24, 0.224383140003405, 0.0092465578255109, -0.497944265978632, -0.000560957850008222],
    [-22.5, 0.210514551010862, 0.0092448398547688, -0.467080461904571, -0.000526286377527156],
    [-10, 0.0951687111077937, 0.00919033664657158, -0.209900161003138, -0.000237921777769484],
    [0, 0.00787107461808013, 0.00631703353811059, -0.0101494236952247, -1.96776865452003e-5],
  ])('a heavily overloaded peak has its value and derivatives at %d', (t, value, ...derivatives) => {
    const jacobian = new Float64Array(4);
    haarhoffVanDerLindeFamily.evaluate([t], 0, 1, [3, 0.2, 0.9, 400], 0, new Float64Array(1), jacobian);
    expect(Math.abs((3 * jacobian[0]!) / value - 1)).toBeLessThan(1e-12);
    derivatives.forEach((expected, j) => expect(Math.abs(jacobian[j + 1]! / expected - 1)).toBeLessThan(1e-12));
  });

  test('the split Gaussian has the figures of Buys and De Clerk, Anal. Chem. 44 (1972) 1273-1275', () => {
    const parameters = [1, 5, 0.04, 0.06];
    expect(splitGaussianFamily.area(parameters, 0)).toBeCloseTo(0.125331413732, 11);
    const moments = splitGaussianFamily.moments!(parameters, 0);
    expect(moments.mean - 5).toBeCloseTo(0.015957691216, 11);
    expect(moments.variance).toBeCloseTo(0.002545352091, 11);
    for (const fraction of [0.05, 0.1, 0.5]) {
      const { before, after, width } = splitGaussianFamily.width!(parameters, 0, fraction);
      expect(after / before).toBeCloseTo(1.5, 12);
      expect(width / (2 * before)).toBeCloseTo(1.25, 12);
    }
    expect(splitGaussian(5, { height: 1, centre: 5, sigmaBefore: 0.04, sigmaAfter: 0.06 })).toBe(1);
  });

  test('the polynomially modified Gaussian has the form of Torres-Lapasió et al., Anal. Chem. 69 (1997) 3822-3831', () => {
    const shape = { height: 1, centre: 5, sigma: 0.05, slope: 0.2, curvature: 0 };
    expect(polynomialGaussian(4.9, shape)).toBeCloseTo(0.003865920139, 11);
    expect(polynomialGaussian(5.1, shape)).toBeCloseTo(0.360447788598, 11);
    expect(polynomialGaussian(5 - 0.075076134507, shape)).toBeCloseTo(0.1, 10);
    expect(polynomialGaussian(5 + 0.187976566332, shape)).toBeCloseTo(0.1, 10);
  });

  test('the hybrid has the figures of Lan and Jorgenson, J. Chromatogr. A 915 (2001) 1-13', () => {
    const parameters = [1, 5, 0.05, 0.05];
    const y = exponentialGaussianHybrid(5.1, { height: 1, centre: 5, sigma: 0.05, tau: 0.05 });
    expect(y).toBeCloseTo(0.367879441171, 11);
    const { before, after } = exponentialGaussianHybridFamily.width!(parameters, 0, 0.1);
    expect(before).toBeCloseTo(0.064199947918, 11);
    expect(after).toBeCloseTo(0.179329202567, 11);
    expect(exponentialGaussianHybridFamily.area(parameters, 0)).toBeCloseTo(0.136315189037, 11);
  });

  test('a peak with a slow tail is the sum of its two parts', () => {
    const shape = { area: 2, mean: 5, sigma: 0.05, tau: 0.02, slowFraction: 0.1, slowTau: 0.6 };
    for (const x of [4.8, 5, 5.1, 6]) {
      const parts = 0.9 * emg(x, { ...shape, tau: 0.02 }) + 0.1 * emg(x, { ...shape, tau: 0.6 });
      expect(emgWithSlowTail(x, shape)).toBeCloseTo(parts, 12);
    }
  });

  test('a fraction beyond 1 and an unusable width are refused by name', () => {
    const shape = { area: 2, mean: 5, sigma: 0.05, tau: 0.02, slowFraction: 1.1, slowTau: 0.6 };
    expect(() => emgWithSlowTail(5, shape)).toThrow(
      expect.objectContaining({
        code: 'option-invalid',
        details: expect.objectContaining({ field: 'slowFraction' }),
      }),
    );
    expect(() => logNormal(5, { height: 1, centre: 5, width: 0, skew: 0 })).toThrow(
      expect.objectContaining({ details: expect.objectContaining({ field: 'width' }) }),
    );
    expect(logNormal(Infinity, { height: 1, centre: 5, width: 1, skew: 0 })).toBe(0);
  });
});
