import { describe, expect, test } from 'vitest';
import { simulateTrace, type TraceRecipe } from '../../../src/index.js';

const recipe: TraceRecipe = {
  duration: 10,
  interval: 0.2,
  seed: 5,
  peaks: [
    { shape: 'emg', name: 'late', retentionTime: 6, area: 300, sigma: 0.05, tau: 0.03 },
    { shape: 'gaussian', name: 'early', retentionTime: 3, height: 40, sigma: 0.04 },
    { shape: 'emg', name: 'fronting', retentionTime: 8, height: -5, sigma: 0.06, tau: -0.05 },
  ],
  bumps: [{ time: 1, height: -3, sigma: 0.03 }],
  baseline: { offset: 2, drift: 6 },
  noise: { white: 0.02, correlated: { standardDeviation: 0.05, timeConstant: 4 } },
};
const quiet: TraceRecipe = { ...recipe, noise: {} };

/** [signal unit s] Trapezia on the axis of the record; exact for smooth peaks that end inside it. */
function areaBetween(time: Float64Array, signal: ArrayLike<number>, from: number, to: number): number {
  let sum = 0;
  for (let i = 1; i < time.length; i++) {
    if (time[i]! > to || time[i - 1]! < from) continue;
    sum += ((signal[i]! + signal[i - 1]!) / 2) * (time[i]! - time[i - 1]!) * 60;
  }
  return sum;
}

describe('simulateTrace', () => {
  test('samples evenly from time 0 to the end, counted from injection, in the unit asked for', () => {
    const { trace } = simulateTrace({ ...recipe, signalUnit: 'mV' });
    expect(trace.time.length).toBe(3001);
    expect([trace.time[0], trace.time[1], trace.time[3000]]).toEqual([0, 0.2 / 60, 10]);
    expect([trace.signalUnit, trace.meta.timeOrigin]).toEqual(['mV', 'injection']);
    expect(simulateTrace(recipe).trace.signalUnit).toBe('mAU');
  });

  test('puts peaks of the stated area and height where it says, in order of time', () => {
    const { trace, truth } = simulateTrace(quiet);
    expect(truth.peaks.map((peak) => peak.name)).toEqual(['early', 'late', 'fronting']);
    const net = trace.signal.map((value, i) => value - truth.baseline[i]!);
    for (const peak of truth.peaks) {
      const area = areaBetween(trace.time, net, peak.retentionTime - 1.5, peak.retentionTime + 1);
      expect(Math.abs(area / peak.area - 1)).toBeLessThan(1e-6); // the tail beyond 1 min, exp(-1 / 0.05), is cut
      expect(Math.abs(peak.areaInRecord / peak.area - 1)).toBeLessThan(1e-12);
      const apex = Math.round((peak.retentionTime * 60) / 0.2); // these apexes lie on samples
      expect(net[apex]! / peak.height).toBeCloseTo(1, 10);
      expect(Math.abs(net[apex - 1]!)).toBeLessThan(Math.abs(net[apex]!));
      expect(Math.abs(net[apex + 1]!)).toBeLessThan(Math.abs(net[apex]!));
    }
    expect(truth.peaks[1]!.area).toBe(300);
  });

  test('counts as area in the record only what lies between its first and last sample', () => {
    const cut: TraceRecipe = {
      duration: 5,
      interval: 0.2,
      peaks: [
        { shape: 'gaussian', retentionTime: 0, height: 10, sigma: 0.1 },
        { shape: 'emg', retentionTime: 4.95, height: 10, sigma: 0.05, tau: 0.1 },
        { shape: 'emg', retentionTime: 9, height: 10, sigma: 0.05, tau: 0.1 },
      ],
    };
    const { trace, truth } = simulateTrace(cut);
    expect(truth.peaks[0]!.areaInRecord / truth.peaks[0]!.area).toBeCloseTo(0.5, 12);
    expect(truth.peaks[2]!.areaInRecord).toBeCloseTo(0, 12);
    // Trapezia of a peak that is cut: wrong by step²/12 times the slope at the cut, here below 2e-4.
    expect(areaBetween(trace.time, trace.signal, 4, 5) / truth.peaks[1]!.areaInRecord).toBeCloseTo(1, 3);
  });

  test('keeps the baseline apart: offset and drift per hour, without bumps', () => {
    const { truth } = simulateTrace(recipe);
    expect([truth.baseline[0], truth.baseline[3000]]).toEqual([2, 3]); // 6 per hour for a sixth of an hour
    expect(truth.clean[300]! - truth.baseline[300]!).toBeCloseTo(-3, 10); // the bump at 1 min
  });

  test('adds noise of the stated size and memory', () => {
    const long: TraceRecipe = { duration: 2000, interval: 0.5, seed: 9 };
    const white = simulateTrace({ ...long, noise: { white: 0.02 } }).trace.signal;
    const wandering = simulateTrace({
      ...long,
      noise: { correlated: { standardDeviation: 0.05, timeConstant: 4 } },
    }).trace.signal;
    const n = white.length;
    expect(Math.abs(covariance(white, 0) / 0.02 ** 2 - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    expect(Math.abs(covariance(white, 1) / 0.02 ** 2)).toBeLessThan(4 / Math.sqrt(n));
    // An autoregressive record of correlation r has n (1 - r²) / (1 + r²) independent squares.
    const r = Math.exp(-0.5 / 4);
    const error = Math.sqrt((2 * (1 + r * r)) / (1 - r * r) / n);
    expect(Math.abs(covariance(wandering, 0) / 0.05 ** 2 - 1)).toBeLessThan(4 * error);
    for (const lag of [1, 8, 16]) {
      expect(Math.abs(covariance(wandering, lag) / 0.05 ** 2 - r ** lag)).toBeLessThan(4 * error);
    }
  });

  test('the same recipe and seed give the same bits, another seed does not', () => {
    const again = simulateTrace(structuredClone(recipe)).trace.signal;
    expect(simulateTrace(recipe).trace.signal).toEqual(again);
    expect(simulateTrace({ ...recipe, seed: 6 }).trace.signal).not.toEqual(again);
  });

  test('white noise stays as it was when peaks and wandering noise change', () => {
    const noise = (from: TraceRecipe): number[] => {
      const { trace, truth } = simulateTrace(from);
      return Array.from(trace.signal, (value, i) => value - truth.clean[i]!);
    };
    const a = noise({ ...recipe, noise: { white: 0.02 } });
    const b = noise({ ...recipe, noise: { white: 0.02 }, peaks: [], bumps: [] });
    expect(Math.max(...a.map((value, i) => Math.abs(value - b[i]!)))).toBeLessThan(1e-13); // rounding of the sum only
  });

  test('rounds readings to the step of the detector', () => {
    const { trace } = simulateTrace({ ...recipe, step: 0.25 });
    expect(trace.signal.every((value) => Number.isInteger(value * 4))).toBe(true);
  });

  test('the recipe is not changed', () => {
    const before = structuredClone(recipe);
    simulateTrace(recipe);
    expect(recipe).toEqual(before);
  });

  const gaussian = { shape: 'gaussian', retentionTime: 3, height: 4, sigma: 0.04 };
  test.each([
    ['duration', { duration: 0 }],
    ['duration', { duration: Infinity }],
    ['interval', { interval: -1 }],
    ['interval', { interval: 1e6 }],
    ['seed', { seed: 1.5 }],
    ['seed', { seed: undefined, noise: { white: 1 } }],
    ['step', { step: 0 }],
    ['peaks', { peaks: {} }],
    ['peaks[1]', { peaks: [gaussian, null] }],
    ['peaks[0].shape', { peaks: [{ ...gaussian, shape: 'square' }] }],
    ['peaks[0].sigma', { peaks: [{ ...gaussian, sigma: 0 }] }],
    ['peaks[0].height', { peaks: [{ ...gaussian, height: undefined }] }],
    ['peaks[0].area', { peaks: [{ ...gaussian, area: 4 }] }],
    ['peaks[0].tau', { peaks: [{ ...gaussian, tau: 0.1 }] }],
    ['peaks[0].tau', { peaks: [{ ...gaussian, shape: 'emg' }] }],
    ['bumps[0].sigma', { bumps: [{ time: 1, height: 1, sigma: NaN }] }],
    ['baseline.drift', { baseline: { drift: NaN } }],
    ['noise.white', { noise: { white: -1 } }],
    ['peaks[0].sigmaAfter', { peaks: [{ ...gaussian, shape: 'split-gaussian' }] }],
    ['peaks[0].skew', { peaks: [{ ...gaussian, shape: 'log-normal', skew: 9 }] }],
    ['peaks[0].overload', { peaks: [{ ...gaussian, overload: 2 }] }],
    ['peaks[0].slowFraction', { peaks: [{ ...gaussian, shape: 'emg-with-slow-tail', slowFraction: 1, slowTau: 1 }] }],
    ['peaks[0].slowTau', { peaks: [{ ...gaussian, shape: 'emg-with-slow-tail', slowFraction: 0.1 }] }],
    ['peaks[0].curvature', { peaks: [{ ...gaussian, shape: 'polynomial-gaussian', slope: 0.1, curvature: 9 }] }],
    [
      'baseline.ramps[1].to',
      {
        baseline: {
          ramps: [
            { from: 1, to: 2, rise: 1 },
            { from: 3, to: 3, rise: 1 },
          ],
        },
      },
    ],
    ['baseline.humps[0].sigma', { baseline: { humps: [{ time: 1, height: 1, sigma: 0 }] } }],
    ['noise.wander.longest', { noise: { wander: { standardDeviation: 1, shortest: 5, longest: 4 } } }],
    ['noise.ripple.period', { noise: { ripple: { amplitude: 1, period: 0 } } }],
    ['noise.ripple.harmonics[1]', { noise: { ripple: { amplitude: 1, period: 1, harmonics: [1, 'x'] } } }],
    ['disturbances[0]', { disturbances: ['spike'] }],
    ['disturbances[0].kind', { disturbances: [{ kind: 'cloud', time: 1, height: 1 }] }],
    ['disturbances[0].sigma', { disturbances: [{ kind: 'void', time: 1, height: 1 }] }],
    ['disturbances[0].second.delay', { disturbances: [{ kind: 'void', time: 1, height: 1, sigma: 1, second: { height: 1, sigma: 1 } }] }], // prettier-ignore
    ['disturbances[0].stay', { disturbances: [{ kind: 'bubble', time: 1, height: 1, stay: -1 }] }],
    ['saturation.level', { saturation: {} }],
    ['saturation.noise', { saturation: { level: 1, noise: 'never' } }],
    ['sampling.jitter', { sampling: { jitter: 0.5 } }],
    ['sampling.slower[0].factor', { sampling: { slower: [{ from: 1, to: 2, factor: 1 }] } }],
    ['sampling.gaps', { sampling: { gaps: [{ from: -1, to: 11 }] } }],
    ['seed', { seed: undefined, noise: undefined, sampling: { jitter: 0.1 } }],
    ['noise.correlated.timeConstant', { noise: { correlated: { standardDeviation: 1, timeConstant: 0 } } }],
  ])('refuses a recipe with a wrong %s and names it', (field, change) => {
    const wrong = { ...recipe, ...change } as TraceRecipe;
    expect(() => simulateTrace(wrong)).toThrow(
      expect.objectContaining({ code: 'option-invalid', details: expect.objectContaining({ field }) }),
    );
  });

  test.each([
    ['durration', { durration: 5 }, 'did you mean duration'],
    ['peaks[0].width', { peaks: [{ ...gaussian, width: 1 }] }, 'there is no option peaks[0].width'],
    ['disturbances[0].decay', { disturbances: [{ kind: 'step', time: 1, height: 1, decay: 1 }] }, 'time, height'],
    ['noise.whit', { noise: { whit: 1 } }, 'did you mean white'],
  ])('refuses the unknown field %s', (field, change, text) => {
    const wrong = { ...recipe, ...change } as TraceRecipe;
    expect(() => simulateTrace(wrong)).toThrow(
      expect.objectContaining({
        code: 'option-unknown',
        message: expect.stringContaining(text),
        details: expect.objectContaining({ field }),
      }),
    );
  });
});

function covariance(values: Float64Array, lag: number): number {
  let sum = 0;
  for (let i = lag; i < values.length; i++) sum += values[i]! * values[i - lag]!;
  return sum / (values.length - lag);
}
