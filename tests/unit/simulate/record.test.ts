import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { simulateTrace, type TraceRecipe } from '../../../src/index.js';

const even: TraceRecipe = { duration: 10, interval: 0.2 };
const gaussian = { shape: 'gaussian', retentionTime: 5, height: 10, sigma: 0.05 } as const;
const index = (t: number): number => Math.round((t * 60) / 0.2);

describe('The baseline of a simulated record', () => {
  test('rises by ramps, bends and returns', () => {
    const ramps = [
      { from: 2, to: 4, rise: 10, bend: 0.4 },
      { from: 6, to: 6.1, rise: -10 },
    ];
    const { baseline } = simulateTrace({ ...even, baseline: { offset: 1, ramps } }).truth;
    expect([0, 2, 3, 4, 5, 6.1, 10].map((t) => baseline[index(t)]!)).toEqual(
      [1, 1, 7, 11, 11, 1, 1].map((y): unknown => expect.closeTo(y, 10)),
    );
  });

  test('has corners as round as the mixer makes them, and the same ends', () => {
    const ramps = [{ from: 4, to: 6, rise: 10, rounding: 0.1 }];
    const { baseline } = simulateTrace({ ...even, baseline: { ramps } }).truth;
    expect(baseline[index(4)]! / ((10 / 2) * 0.1 * Math.LN2)).toBeCloseTo(1, 6); // r ln 2 at the corner
    expect(baseline[index(5)]).toBeCloseTo(5, 10);
    expect(baseline[0]).toBeCloseTo(0, 10);
    expect(baseline.at(-1)).toBeCloseTo(10, 10);
  });

  test('has humps', () => {
    const { truth, trace } = simulateTrace({ ...even, baseline: { humps: [{ time: 5, height: 8, sigma: 1 }] } });
    expect(truth.baseline[index(5)]).toBeCloseTo(8, 12);
    expect(truth.baseline[index(6)]).toBeCloseTo(8 * Math.exp(-0.5), 12);
    expect(trace.signal).toEqual(truth.baseline);
  });
});

describe('The noise of a simulated record', () => {
  const long: TraceRecipe = { duration: 2000, interval: 0.5, seed: 3 };
  const power = (values: Float64Array): number => values.reduce((sum, y) => sum + y * y, 0) / values.length;

  test('is told apart in the truth', () => {
    const noise = { white: 0.1, wander: { standardDeviation: 0.2, shortest: 5, longest: 500 }, ripple: { amplitude: 0.1, period: 3 } }; // prettier-ignore
    const { trace, truth } = simulateTrace({ ...even, seed: 1, noise, peaks: [gaussian], baseline: { offset: 2 } });
    const most = Math.max(...trace.signal.map((y, i) => Math.abs(y - truth.clean[i]! - truth.noise[i]!)));
    expect(most).toBeLessThan(1e-14); // rounding of sums near 10
  });

  test('wanders with the same power in every octave', () => {
    // Bernamont, Proc. Phys. Soc. 49 (1937) 138, from memory: 1/f is a sum of first-order processes an octave apart.
    // The mean squared change over a time then rises by the same in every octave: 2 s² of one process.
    const wander = { standardDeviation: 0.2, shortest: 1, longest: 1024 };
    const { noise } = simulateTrace({ ...long, interval: 1, noise: { wander } }).truth;
    expect(Math.sqrt(power(noise)) / 0.2).toBeCloseTo(1, 0);
    const change = (lag: number): number => {
      let sum = 0;
      for (let i = lag; i < noise.length; i++) sum += (noise[i]! - noise[i - lag]!) ** 2;
      return sum / (noise.length - lag);
    };
    const changes = [8, 16, 32, 64, 128].map(change);
    for (let i = 1; i < changes.length; i++) {
      expect(Math.abs((changes[i]! - changes[i - 1]!) / ((2 * 0.04) / 11) - 1)).toBeLessThan(0.2);
    }
  });

  test('ripples with the stated period, amplitude and harmonics', () => {
    const ripple = { amplitude: 2, period: 5, harmonics: [0.5, 0, 0.25] };
    const { noise } = simulateTrace({ ...long, noise: { ripple } }).truth;
    expect(power(noise)).toBeCloseTo(2 * (1 + 0.25 + 0.0625), 3); // A²/2 of each wave
    for (let i = 0; i < 1000; i++) expect(noise[i + 10]).toBeCloseTo(noise[i]!, 9); // 5 s are 10 samples
    expect(simulateTrace({ ...long, seed: 4, noise: { ripple } }).truth.noise[0]).not.toBe(noise[0]);
  });
});

describe('A disturbance in a simulated record', () => {
  const added = (disturbances: TraceRecipe['disturbances']) => {
    const { trace, truth } = simulateTrace({ ...even, disturbances: disturbances! });
    return { y: trace.signal, truth: truth.disturbances };
  };

  test.each([1, -1])('is a swing at the hold-up time in both orders: %i', (order) => {
    const second = { delay: 0.1, height: -order * 3, sigma: 0.02 };
    const { y, truth } = added([{ kind: 'void', time: 1, height: order * 4, sigma: 0.02, second }]);
    expect(y[index(1)]! * order).toBeCloseTo(4, 4);
    expect(y[index(1.1)]! * order).toBeCloseTo(-3, 4);
    expect(truth).toEqual([
      { kind: 'void', time: 1, start: expect.closeTo(0.9, 9), end: expect.closeTo(1.2, 9), height: order * 4 },
    ]);
  });

  test('is a bubble that comes at once, stays and is swept out', () => {
    const { y, truth } = added([{ kind: 'bubble', time: 3, height: 5, stay: 0.5, decay: 0.1 }]);
    expect([2.99, 3.2, 3.5, 3.6].map((t) => y[index(t)]!)).toEqual([0, 5, 5, 5 / Math.E].map((v): unknown => expect.closeTo(v, 9))); // prettier-ignore
    expect([truth[0]!.start, truth[0]!.end]).toEqual([3, 4]);
    expect(added([{ kind: 'bubble', time: 3, height: 5 }]).y.filter((v) => v !== 0)).toHaveLength(1);
  });

  test('is a spike of one reading, or as long as it is said to be', () => {
    expect([...added([{ kind: 'spike', time: 3.0012, height: -7 }]).y].filter((v) => v !== 0)).toEqual([-7]);
    expect(added([{ kind: 'spike', time: 3.0017, height: 7 }]).y.filter((v) => v !== 0)).toHaveLength(1);
    expect(added([{ kind: 'spike', time: 3, height: 7, length: 1 }]).y.filter((v) => v !== 0)).toHaveLength(5);
  });

  test('is a step that stays', () => {
    const { y, truth } = added([{ kind: 'step', time: 3, height: 2 }]);
    expect([2.99, 3, 9].map((t) => y[index(t)])).toEqual([0, 2, 2]);
    expect(truth[0]).toMatchObject({ kind: 'step', start: 3, end: 3 });
  });

  test('is listed in order of time, bumps too', () => {
    const bumps = [{ time: 2, height: 1, sigma: 0.05 }];
    const { truth } = simulateTrace({ ...even, bumps, disturbances: [{ kind: 'step', time: 1, height: 2 }] });
    expect(truth.disturbances.map(({ kind }) => kind)).toEqual(['step', 'bump']);
  });
});

describe('The ceiling of a simulated detector', () => {
  const noise = { white: 0.05 };
  const recipe: TraceRecipe = {
    ...even,
    seed: 2,
    noise,
    peaks: [{ ...gaussian, height: 20 }],
    baseline: { offset: 1 },
  };

  test('leaves a flat top when the noise is before it, a noisy one when it is after it', () => {
    const before = simulateTrace({ ...recipe, saturation: { level: 10 } }).trace.signal;
    const after = simulateTrace({ ...recipe, saturation: { level: 10, noise: 'after' } }).trace.signal;
    const top = [index(4.97), index(5.03)] as const;
    expect(new Set(before.slice(...top))).toEqual(new Set([10]));
    expect(Math.max(...before)).toBe(10);
    expect(Math.max(...after)).toBeGreaterThan(10.05);
    expect(new Set(after.slice(...top)).size).toBe(top[1] - top[0]);
  });

  test('takes the area above it off the area in the record', () => {
    const [peak] = simulateTrace({ ...recipe, interval: 0.02, saturation: { level: 10 } }).truth.peaks;
    const { signal, time } = simulateTrace({ ...recipe, interval: 0.02, noise: {}, saturation: { level: 10 } }).trace;
    const sum = signal.reduce((a, y) => a + (y - 1) * 0.02, 0);
    expect(time.length).toBe(30001);
    expect(peak!.areaInRecord / sum).toBeCloseTo(1, 5);
    expect(peak).toMatchObject({ isSaturated: true, isVisible: true, isIsolated: false });
  });
});

describe('The clock of a simulated record', () => {
  const noise = { white: 0.05, correlated: { standardDeviation: 0.02, timeConstant: 1 } };
  const recipe: TraceRecipe = { ...even, seed: 2, noise, peaks: [gaussian] };
  const plain = simulateTrace(recipe).trace;

  test('jitters by at most the share of the interval, and the readings are those of the true times', () => {
    const { trace, truth } = simulateTrace({ ...recipe, sampling: { jitter: 0.3 } });
    const off = trace.time.map((t, i) => Math.abs(t - plain.time[i]!) / (0.2 / 60));
    expect(Math.max(...off)).toBeLessThanOrEqual(0.3 + 1e-9);
    expect(Math.max(...off)).toBeGreaterThan(0.29);
    trace.time.forEach((t, i) => {
      expect(truth.clean[i]).toBeCloseTo(10 * Math.exp(-0.5 * ((t - 5) / 0.05) ** 2), 10);
    });
  });

  test('leaves out gaps and thins slower stretches without touching other readings', () => {
    const sampling = { gaps: [{ from: 2, to: 3 }], slower: [{ from: 6, to: 8, factor: 4 }] };
    const { trace, truth } = simulateTrace({ ...recipe, sampling });
    expect(trace.time.some((t) => t > 2 + 1e-9 && t < 3 - 1e-9)).toBe(false);
    expect(trace.time.filter((t) => t >= 6 && t < 8 - 1e-9)).toHaveLength(150);
    trace.time.forEach((t, i) => {
      const k = index(t);
      expect([t, trace.signal[i]]).toEqual([plain.time[k], plain.signal[k]]);
    });
    expect(truth.baseline.length).toBe(trace.time.length);
  });

  test('starts late in a run that is cut inside a peak', () => {
    const { trace, truth } = simulateTrace({ start: 5, duration: 2, interval: 0.2, peaks: [gaussian] });
    expect([trace.time[0], trace.time.at(-1)]).toEqual([5, expect.closeTo(7, 12)]);
    expect(truth.peaks[0]).toMatchObject({ isCut: true, isIsolated: false });
    expect(truth.peaks[0]!.areaInRecord / truth.peaks[0]!.area).toBeCloseTo(0.5, 12);
  });
});

describe('The truth about a simulated peak', () => {
  const pair = (apart: number, height = 10) =>
    simulateTrace({
      ...even,
      peaks: [gaussian, { ...gaussian, retentionTime: 5 + apart * 0.05, height }],
    }).truth.peaks;

  test('says whether the sum has an extremum of its own there', () => {
    // Two equal Gaussians have two maxima from 2 sigma on (common practice, no source).
    expect(pair(1.9).map((p) => p.isVisible)).toEqual([false, false]);
    expect(pair(3).map((p) => p.isVisible)).toEqual([true, true]);
    expect(pair(2.4, 0.5).map((p) => p.isVisible)).toEqual([true, false]);
    expect(pair(4, -3).map((p) => p.isVisible)).toEqual([true, true]);
  });

  test('gives an extremum to one peak only', () => {
    expect(pair(0.2).filter((p) => p.isVisible)).toHaveLength(1);
  });

  test('calls a peak isolated while all else stays below 1 % of it between its 5 % points', () => {
    expect(pair(12).map((p) => p.isIsolated)).toEqual([true, true]);
    // 10 sigma away and 1 % as tall: nothing to the large one, whose tail is e^-28 at the 5 % point of the small one.
    expect(pair(10, 0.1).map((p) => p.isIsolated)).toEqual([true, true]);
    expect(pair(4).map((p) => p.isIsolated)).toEqual([false, false]);
    const disturbances = [{ kind: 'spike', time: 5.05, height: 0.2 }] as const;
    expect(simulateTrace({ ...even, peaks: [gaussian], disturbances }).truth.peaks[0]!.isIsolated).toBe(false);
  });

  test('has the signal-to-noise ratio 2H/h over twenty half widths, less a straight line', () => {
    // European Pharmacopoeia 2.2.46: 2H/h. A ripple of amplitude 0.1 has a range of 0.2; its phase leaves a line of little slope.
    const ripple = { amplitude: 0.1, period: 1.7 };
    const [peak] = simulateTrace({ ...even, seed: 1, noise: { ripple }, peaks: [gaussian] }).truth.peaks;
    expect(peak!.signalToNoise! / 100).toBeCloseTo(1, 1);
    const [stepped] = simulateTrace({ ...even, step: 0.5, peaks: [gaussian] }).truth.peaks;
    expect(stepped!.signalToNoise).toBe(40);
    expect(simulateTrace({ ...even, peaks: [gaussian] }).truth.peaks[0]).not.toHaveProperty('signalToNoise');
  });
});

test('A recipe with everything in it gives the same bits everywhere', () => {
  const recipe: TraceRecipe = {
    start: 0.3,
    duration: 12,
    interval: 0.1,
    seed: 77,
    sampling: { jitter: 0.2, gaps: [{ from: 3, to: 3.1 }], slower: [{ from: 8, to: 9, factor: 2 }] },
    baseline: { offset: 3, drift: 5, ramps: [{ from: 1, to: 9, rise: 4, rounding: 0.1 }], humps: [{ time: 6, height: 2, sigma: 1 }] }, // prettier-ignore
    noise: {
      white: 0.02,
      correlated: { standardDeviation: 0.02, timeConstant: 1 },
      wander: { standardDeviation: 0.1, shortest: 5, longest: 320 },
      ripple: { amplitude: 0.05, period: 2.2, harmonics: [0.3] },
    },
    disturbances: [{ kind: 'bubble', time: 2, height: 3, stay: 0.02, decay: 0.03 }],
    saturation: { level: 40, noise: 'after' },
    step: 0.001,
    peaks: [
      { shape: 'emg', retentionTime: 2.5, height: 30, sigma: 0.03, tau: 0.02 },
      { shape: 'split-gaussian', retentionTime: 4, height: 30, sigma: 0.04, sigmaAfter: 0.06 },
      { shape: 'log-normal', retentionTime: 5, height: 60, sigma: 0.05, skew: 0.3 },
      { shape: 'haarhoff-van-der-linde', retentionTime: 6, height: 20, sigma: 0.05, overload: 3 },
      { shape: 'emg-with-slow-tail', retentionTime: 7, height: 20, sigma: 0.05, slowFraction: 0.05, slowTau: 0.2 },
      { shape: 'polynomial-gaussian', retentionTime: 9, height: -10, sigma: 0.06, slope: 0.1 },
    ],
  };
  const hash = createHash('sha256');
  const { trace, truth } = simulateTrace(recipe);
  for (const { buffer } of [trace.time, trace.signal, truth.clean, truth.noise]) hash.update(new Uint8Array(buffer));
  hash.update(JSON.stringify(truth.peaks));
  // Our own, taken once: it guards the bits, the tests above guard their meaning.
  expect(hash.digest('hex')).toBe('545d03a5e556eba2e1ae50470a5f7ccd6ebdfe07265485080c7eb167c9774b58');
});

test('A record of before the recipe grew has the bits it had', () => {
  const { trace } = simulateTrace({
    duration: 10,
    interval: 0.2,
    seed: 5,
    peaks: [
      { shape: 'emg', retentionTime: 6, area: 300, sigma: 0.05, tau: 0.03 },
      { shape: 'gaussian', retentionTime: 3, height: 40, sigma: 0.04 },
      { shape: 'emg', retentionTime: 8, height: -5, sigma: 0.06, tau: -0.05 },
    ],
    bumps: [{ time: 1, height: -3, sigma: 0.03 }],
    baseline: { offset: 2, drift: 6 },
    noise: { white: 0.02, correlated: { standardDeviation: 0.05, timeConstant: 4 } },
  });
  expect(createHash('sha256').update(new Uint8Array(trace.signal.buffer)).digest('hex')).toBe(
    '2e648dcb8f718b01bd2bac4ba6d438021b3939fffd55263a0da871bf2ede1cb8',
  );
});
