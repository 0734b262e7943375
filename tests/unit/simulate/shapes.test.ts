import { describe, expect, test } from 'vitest';
import { simulateTrace, type PeakRecipe, type TruePeak } from '../../../src/index.js';

const at = { retentionTime: 5, height: 1 };
const shapes: readonly PeakRecipe[] = [
  { shape: 'gaussian', ...at, sigma: 0.05 },
  { shape: 'emg', ...at, sigma: 0.05, tau: 0.05 },
  { shape: 'emg', ...at, sigma: 0.05, tau: -0.05 },
  { shape: 'split-gaussian', ...at, sigma: 0.04, sigmaAfter: 0.06 },
  { shape: 'log-normal', ...at, sigma: 0.05, skew: 0.3 },
  { shape: 'log-normal', ...at, sigma: 0.05, skew: -0.2 },
  { shape: 'log-normal', ...at, sigma: 0.02, skew: 0.9 },
  { shape: 'haarhoff-van-der-linde', ...at, sigma: 0.05, overload: 2 },
  { shape: 'haarhoff-van-der-linde', ...at, sigma: 0.05, overload: -8 },
  { shape: 'haarhoff-van-der-linde', ...at, sigma: 0.05, overload: 60 },
  { shape: 'emg-with-slow-tail', ...at, sigma: 0.05, slowFraction: 0.05, slowTau: 0.2 },
  { shape: 'emg-with-slow-tail', ...at, sigma: 0.05, tau: 0.02, slowFraction: 0.1, slowTau: 0.15 },
  { shape: 'polynomial-gaussian', ...at, sigma: 0.05, slope: 0.2 },
  { shape: 'polynomial-gaussian', ...at, sigma: 0.05, slope: -0.1, curvature: 0.3 },
];
const cases = shapes.map((peak): [string, PeakRecipe] => [JSON.stringify({ ...peak, height: undefined }), peak]);
const alone = (peak: PeakRecipe): TruePeak =>
  simulateTrace({ duration: 10, interval: 1, peaks: [peak] }).truth.peaks[0]!;

describe.each(cases)('A simulated peak %s', (_, peak) => {
  const { trace, truth } = simulateTrace({ duration: 12, interval: 0.05, peaks: [peak] });
  const truePeak = truth.peaks[0]!;
  const { time, signal } = trace;

  test('has its apex, of the height asked for, where it was put', () => {
    const top = signal.indexOf(Math.max(...signal));
    expect(time[top]).toBeCloseTo(5, 9); // 5 min is a sample
    expect(signal[top]).toBeCloseTo(1, 12);
  });

  test('has the area that is under its samples', () => {
    const sum = signal.reduce((a, b) => a + b, 0) * 0.05;
    // Trapezia of a smooth peak with 60 samples to a sigma; the kink of the second derivative of a split one costs 1e-6.
    expect(Math.abs(truePeak.area / sum - 1)).toBeLessThan(2e-6);
    expect(truePeak.areaInRecord / truePeak.area).toBeCloseTo(1, 9);
  });

  test('falls to 5, 10 and 50 % where the truth says', () => {
    const { start, end, widths } = truePeak;
    const value = (t: number): number => simulateTrace({ start: t, duration: 1, interval: 1, peaks: [peak] }).trace.signal[0]!; // prettier-ignore
    expect(value(start)).toBeCloseTo(0.05, 10);
    expect(value(end)).toBeCloseTo(0.05, 10);
    expect(widths.fivePercent).toBeCloseTo(end - start, 12);
    for (const [width, share] of [
      [widths.halfHeight, 0.5],
      [widths.tenPercent, 0.1],
    ] as const) {
      const above = signal.reduce((n, y) => n + (y > share ? 1 : 0), 0) * (0.05 / 60);
      expect(Math.abs(width - above)).toBeLessThan(2 * (0.05 / 60));
    }
  });

  test('is as tall for its area as the other way round', () => {
    const rest: { -readonly [K in keyof PeakRecipe]: PeakRecipe[K] } = { ...peak, area: truePeak.area };
    delete rest.height;
    const byArea = alone(rest);
    expect(byArea.height).toBeCloseTo(1, 12);
    expect(byArea.area).toBe(truePeak.area);
    const down = alone({ ...peak, height: -3 });
    expect(down.area / truePeak.area).toBeCloseTo(-3, 12);
    expect(down.tailingFactor).toBeCloseTo(truePeak.tailingFactor, 9);
  });

  test('has as much area in the record as lies between its first and last sample', () => {
    const whole = (from: number, to: number): number => {
      let sum = 0;
      for (let i = 1; i < time.length; i++) {
        if (time[i]! > to + 1e-9 || time[i - 1]! < from - 1e-9) continue;
        sum += ((signal[i]! + signal[i - 1]!) / 2) * 0.05;
      }
      return sum;
    };
    for (const [start, duration] of [
      [4.95, 3],
      [5.05, 3],
      [3, 2.1],
      [3, 1.95],
    ] as const) {
      const cut = simulateTrace({ start, duration, interval: 0.05, peaks: [peak] }).truth.peaks[0]!;
      expect(Math.abs(cut.areaInRecord - whole(start, start + duration)) / cut.area).toBeLessThan(3e-5); // cut trapezia
    }
  });
});

describe('What is measured on a simulated peak alone', () => {
  test('is what every definition gives on a Gaussian', () => {
    // European Pharmacopoeia 2.2.46: all plate numbers of a Gaussian are (t / sigma)²; tangent width 4 sigma.
    const { plates, widths, tailingFactor, asymmetry } = alone(shapes[0]!);
    expect(plates.halfHeight).toBeCloseTo(10000, 6);
    expect(plates.tangent! / 10000).toBeCloseTo(1, 6);
    expect(widths.tangent).toBeCloseTo(0.2, 8);
    expect(tailingFactor).toBeCloseTo(1, 10);
    expect(asymmetry).toBeCloseTo(1, 10);
    // Foley and Dorsey, Anal. Chem. 55 (1983) 730, from memory: 0.6 % high on a Gaussian.
    expect(plates.foleyDorsey! / 10000).toBeCloseTo(1.006, 3);
  });

  test('is what the closed forms give for shapes that have them', () => {
    // Fraser and Suzuki, Anal. Chem. 41 (1969) 37, from memory: w 0.12, a 0.3 has W0.5 = (w/a) sinh a and area
    // h (w/2) sqrt(pi / ln 2) exp(a² / (4 ln 2)).
    const logNormal = alone({ shape: 'log-normal', ...at, sigma: 0.12 / Math.sqrt(8 * Math.LN2), skew: 0.3 });
    expect(logNormal.widths.halfHeight).toBeCloseTo(0.121808117379, 11);
    expect(logNormal.area / 60).toBeCloseTo(0.131950467224, 11);
    // Buys and De Clerk, Anal. Chem. 44 (1972) 1273, from memory: B/A = 1.5 at every height, tailing 1.25.
    const split = alone(shapes[3]!);
    expect(split.area / 60).toBeCloseTo(0.125331413732, 11);
    expect(split.asymmetry).toBeCloseTo(1.5, 10);
    expect(split.tailingFactor).toBeCloseTo(1.25, 10);
    // Torres-Lapasió et al., Anal. Chem. 69 (1997) 3822, from memory: s0 0.05, s1 0.2 at 10 % of the height.
    const polynomial = alone(shapes.find((peak) => peak.shape === 'polynomial-gaussian')!);
    expect(polynomial.widths.tenPercent).toBeCloseTo(0.075076134507 + 0.187976566332, 10);
    expect(polynomial.asymmetry).toBeCloseTo(0.187976566332 / 0.075076134507, 9);
    // Haarhoff and Van der Linde, Anal. Chem. 38 (1966) 573, from memory: a0 1, a1 5, a2 0.05, a3 1e-3 (overload 2):
    // values at 4.95, 5 and 5.05 of 7.6773963455, 6.0766421863, 2.4248907187 around an apex that moved forward.
    const { trace } = simulateTrace({ duration: 10, interval: 0.006, peaks: [{ shape: 'haarhoff-van-der-linde', retentionTime: 5, area: 60, sigma: 0.05, overload: 2 }] }); // prettier-ignore
    const best = trace.signal.reduce((near, y, i) => (i < 50000 || Math.abs(y - 6.0766421863) > Math.abs(trace.signal[near]! - 6.0766421863) ? near : i), 50000); // prettier-ignore
    expect(Math.abs(trace.signal[best - 500]! - 7.6773963455)).toBeLessThan(0.01);
    expect(Math.abs(trace.signal[best + 500]! - 2.4248907187)).toBeLessThan(0.01);
  });

  test('includes the resolution to the peak before, in order of time', () => {
    const peaks: PeakRecipe[] = [
      { shape: 'gaussian', retentionTime: 5.3, height: 1, sigma: 0.05 },
      { shape: 'gaussian', retentionTime: 5, height: 4, sigma: 0.05 },
    ];
    const [first, second] = simulateTrace({ duration: 10, interval: 1, peaks }).truth.peaks;
    expect(first!.resolution).toBeUndefined();
    // European Pharmacopoeia 2.2.46: distance over 4 sigma for equal Gaussians.
    expect(second!.resolution!.halfHeight).toBeCloseTo(1.5, 9);
    expect(second!.resolution!.tangent).toBeCloseTo(1.5, 6);
  });

  test('cuts areas as the closed form of the same peak under another name does', () => {
    const emg = { shape: 'emg', ...at, sigma: 0.05, tau: 0.05 } as const;
    const gaussian = { shape: 'gaussian', ...at, sigma: 0.05 } as const;
    const twins: readonly (readonly [PeakRecipe, PeakRecipe])[] = [
      [emg, { ...emg, shape: 'emg-with-slow-tail', slowFraction: 0, slowTau: 0.2 }],
      [gaussian, { ...gaussian, shape: 'split-gaussian', sigmaAfter: 0.05 }],
      [gaussian, { ...gaussian, shape: 'log-normal', skew: 0 }],
      [gaussian, { ...gaussian, shape: 'haarhoff-van-der-linde', overload: 0 }],
      [gaussian, { ...gaussian, shape: 'polynomial-gaussian', slope: 0 }],
    ];
    for (const [one, other] of twins) {
      for (const start of [3, 4.9, 4.99, 5, 5.01, 5.2, 6]) {
        const areas = [one, other].map((peak) => simulateTrace({ start, duration: 3, interval: 1, peaks: [peak] }).truth.peaks[0]!); // prettier-ignore
        expect(Math.abs(areas[0]!.areaInRecord - areas[1]!.areaInRecord) / areas[0]!.area).toBeLessThan(1e-7);
      }
    }
  });
});
