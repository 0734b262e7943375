import { xyIntegration } from 'ml-spectra-processing';
import { describe, expect, test } from 'vitest';
import {
  areaBetween,
  createTrace,
  integrate,
  type Baseline,
  type IntegrationPlan,
  type Trace,
} from '../../../src/index.js';
import { emg } from '../../reference/measures/reference-peaks.js';
import { planOf, plannedPeak, straight } from '../../support/plans.js';
import { repeatableNumbers, traceAt } from '../../support/traces.js';

const sigma = 0.05;
const centre = 5;

/** Samples every `step` minutes, one of them `phase` steps after the centre. */
function sampled(step: number, phase: number, signal: (t: number) => number): Trace {
  const count = Math.round(1.6 / step);
  const time = Array.from({ length: 2 * count + 1 }, (_, i) => centre + (i - count + phase) * step);
  return traceAt(time, (i) => signal(time[i]!));
}

/**
 * Relative error of the trapezoid rule on a whole peak: Poisson's sum over the Fourier transform of its shape,
 * exp(-2 pi² f² sigma²) / (1 + 2 pi i f tau) for the exponentially modified Gaussian, at f = j / step.
 */
function trapezoidError(step: number, sampleAfterMean: number, tau: number): number {
  let sum = 0;
  for (let j = 1; j < 8; j++) {
    const f = j / step;
    const size = Math.exp(-2 * (Math.PI * f * sigma) ** 2) / Math.sqrt(1 + (2 * Math.PI * f * tau) ** 2);
    sum += 2 * size * Math.cos(2 * Math.PI * f * sampleAfterMean + Math.atan(2 * Math.PI * f * tau));
  }
  return sum;
}

describe('the area of a peak of known area', () => {
  const line = (t: number): number => 3 - 0.4 * t;
  const baseline = straight(4, 6, line(4), line(6));
  const gauss = (t: number): number => 100 * Math.exp(-0.5 * ((t - centre) / sigma) ** 2);

  test.each([
    [1, 0],
    [1, 0.5],
    [1.5, 0],
    [1.5, 0.5],
    [2, 0],
    [2, 0.25],
    [2, 0.5],
  ])('is off by what the trapezoid rule is off, %d sigma between samples, phase %d', (perSigma, phase) => {
    const step = perSigma * sigma;
    const trace = sampled(step, phase, (t) => gauss(t) + line(t));
    // Limits on no sample; the straight pieces they cut lie so far out that nothing is left.
    const plan = planOf([plannedPeak('p', centre - 8.3 * sigma, centre + 8.3 * sigma)], baseline);
    const { area } = integrate(trace, plan).peaks[0]!;
    const exact = 60 * 100 * sigma * Math.sqrt(2 * Math.PI);
    expect(Math.abs(area / exact - 1 - trapezoidError(step, phase * step, 0))).toBeLessThan(1e-11);
  });

  // Figures of the sheet of closed forms: 2 sum exp(-2 pi² j² sigma²/step²).
  test('is off by 5.35e-9, 3.10e-4 and 1.44 % at one, one and a half, and two sigma between samples', () => {
    expect(trapezoidError(sigma, 0, 0)).toBeCloseTo(5.350576e-9, 14);
    expect(trapezoidError(1.5 * sigma, 0, 0)).toBeCloseTo(3.097223e-4, 9);
    expect(trapezoidError(2 * sigma, 0, 0)).toBeCloseTo(0.014383772, 8);
  });

  test.each([0.25, 1, 2, 3])('is right for a tailing peak with tau = %d sigma', (ratio) => {
    const tau = ratio * sigma;
    const [from, to] = [centre - 6 * sigma, centre + 6 * sigma + 20 * tau];
    const step = sigma;
    const count = Math.ceil((to - from) / step) + 40;
    const time = Array.from({ length: count }, (_, i) => from + (i - 20 + 0.3) * step);
    const trace = traceAt(time, (i) => 40 * emg(time[i]!, centre, sigma, tau) + line(time[i]!));
    const wide = straight(from, to, line(from), line(to));
    const { area } = integrate(trace, planOf([plannedPeak('p', from, to, { apex: 5.03 })], wide)).peaks[0]!;
    // The tail is cut after 20 tau (2e-9); the trapezoid rule is off by at most 5.4e-9 at one sample per sigma.
    expect(Math.abs(area / (60 * 40) - 1)).toBeLessThan(2e-8);
  });

  test('is negative for a peak that points down, and height too', () => {
    const trace = sampled(sigma / 4, 0.3, (t) => line(t) - gauss(t));
    const plan = planOf([plannedPeak('p', 4.7, 5.3, { direction: 'down' })], baseline);
    const peak = integrate(trace, plan).peaks[0]!;
    expect(peak.area / (-60 * 100 * sigma * Math.sqrt(2 * Math.PI))).toBeCloseTo(1, 7);
    // Three points or a local fit of a Gaussian at four samples per sigma: within 0.1 %.
    expect(peak.height / -100).toBeCloseTo(1, 2);
  });

  test('counts signal below the baseline negative', () => {
    const trace = traceAt([0, 1, 2, 3, 4], (i) => [0, 1, 0, -1, 0][i]!);
    expect(areaBetween(trace, straight(0, 4), 0, 4)).toBe(0);
    expect(areaBetween(trace, straight(0, 4), 2, 4)).toBe(-60);
  });
});

describe('the area between any two times', () => {
  const random = repeatableNumbers(11);
  const time: number[] = [];
  for (let i = 0, t = -1; i < 120; i++) time.push((t += 0.01 + 0.2 * random() ** 3));
  const trace = createTrace({
    time,
    signal: time.map(() => 200 * (random() - 0.4)),
    timeUnit: 'min',
    signalUnit: 'mAU',
  });
  const knots: Baseline = { id: 'run', kind: 'knots', time: [0, 0.3, 1.7, 2], value: [4, -2, 11, 3] };

  /** Straight through points, level beyond: written for this test, a search from the left at every call. */
  const polyline = (x: ArrayLike<number>, y: ArrayLike<number>, t: number): number => {
    if (t <= x[0]!) return y[0]!;
    for (let i = 1; i < x.length; i++) {
      if (t <= x[i]!) return y[i - 1]! + ((y[i]! - y[i - 1]!) * (t - x[i - 1]!)) / (x[i]! - x[i - 1]!);
    }
    return y[y.length - 1]!;
  };
  /** Trapezoids between all corners of signal and baseline: exact, slow, apart from the library. */
  const slowArea = (from: number, to: number): number => {
    const corners = [from, to, ...time, ...knots.time].filter((t) => t >= from && t <= to).sort((a, b) => a - b);
    const above = (t: number): number => polyline(time, trace.signal, t) - polyline(knots.time, knots.value, t);
    let sum = 0;
    for (let i = 1; i < corners.length; i++) {
      sum += (corners[i]! - corners[i - 1]!) * 0.5 * (above(corners[i]!) + above(corners[i - 1]!));
    }
    return 60 * sum;
  };

  test('is that of the trapezoids between all corners, on an uneven axis with limits between samples', () => {
    const span = time.at(-1)! - time[0]!;
    for (let k = 0; k < 200; k++) {
      const from = time[0]! + span * random();
      const to = from + (time.at(-1)! - from) * random() ** (k % 2 === 0 ? 1 : 6);
      // Of the largest possible area in play.
      expect(Math.abs(areaBetween(trace, knots, from, to) - slowArea(from, to))).toBeLessThan(60 * 120 * span * 1e-13);
    }
  });

  test('is that of a general library when the limits are samples', () => {
    for (const [a, b] of [
      [0, 119],
      [3, 4],
      [17, 90],
    ] as const) {
      const theirs = xyIntegration({ x: time, y: trace.signal }, { fromIndex: a, toIndex: b });
      const ours = areaBetween(trace, straight(time[0]!, time[119]!), time[a]!, time[b]!);
      expect(Math.abs(ours / 60 - theirs)).toBeLessThan(1e-11);
    }
  });

  test('is nothing when the limits coincide', () => {
    expect(areaBetween(trace, knots, 0.5, 0.5)).toBe(0);
  });

  test('takes a bridged stretch as straight, whole or in part, and leaves the rest alone', () => {
    const spiky = traceAt(
      Array.from({ length: 11 }, (_, i) => i),
      (i) => (i === 5 ? 1000 : 2 * i),
    );
    const run = straight(0, 10);
    const bridged = [{ from: 4, to: 6, reason: 'spike' }];
    expect(areaBetween(spiky, run, 0, 10, bridged)).toBeCloseTo(60 * 100, 9);
    // From 4.5 to 5.5 the line is 2 t: 10.
    expect(areaBetween(spiky, run, 4.5, 5.5, bridged)).toBeCloseTo(60 * 10, 9);
    expect(areaBetween(spiky, run, 6, 10, bridged)).toBe(areaBetween(spiky, run, 6, 10));
    const plan = { ...planOf([plannedPeak('p', 1, 9)], run), bridged };
    const [peak] = integrate(spiky, plan).peaks;
    expect(peak!.area).toBeCloseTo(60 * 80, 9);
    expect(peak!.warnings.map((w) => w.code)).toContain('peak-bridged');
  });
});

describe('integrate', () => {
  const time = Array.from({ length: 2001 }, (_, i) => i / 200);
  const shape = (t: number, at: number): number => Math.exp(-0.5 * ((t - at) / 0.1) ** 2);
  const trace = traceAt(time, (i) => 1 + 50 * shape(time[i]!, 3) + 20 * shape(time[i]!, 3.5) + 30 * shape(time[i]!, 7));
  const run = straight(0, 10, 1, 1);

  test('measures a table of limits that someone else made', () => {
    const plan: IntegrationPlan = {
      baselines: [run],
      regions: [
        {
          start: 2.5,
          end: 4,
          peaks: [plannedPeak('left', 2.5, 3.3, { apex: 3 }), plannedPeak('right', 3.3, 4, { apex: 3.5 })],
        },
        { start: 6.5, end: 7.5, peaks: [plannedPeak('alone', 6.5, 7.5)] },
      ],
    };
    const { peaks, regions } = integrate(trace, plan);
    expect(peaks.map((p) => p.id)).toEqual(['left', 'right', 'alone']);
    expect(regions.map((r) => r.peaks)).toEqual([['left', 'right'], ['alone']]);
    const whole = 60 * 0.1 * Math.sqrt(2 * Math.PI);
    expect(regions[0]!.area / (70 * whole)).toBeCloseTo(1, 5);
    expect(regions[1]!.area / (30 * whole)).toBeCloseTo(1, 5);
    expect(peaks[2]!.retentionTime).toBeCloseTo(7, 6);
    // The local fit of a Gaussian sampled 20 times per sigma is 0.03 % low.
    expect(peaks[2]!.height / 30).toBeCloseTo(1, 3);
    expect(peaks[2]!).toMatchObject({ start: 6.5, end: 7.5, startKind: 'by hand', baselineStart: 1, baselineEnd: 1 });
  });

  test('a peak that was cut off, or has no maximum of its own, says so', () => {
    const plan: IntegrationPlan = {
      baselines: [run],
      regions: [
        { start: 2, end: 3, peaks: [plannedPeak('rise', 2.6, 2.9, { apex: 2.8 })] },
        { start: 6.5, end: 7.5, peaks: [plannedPeak('cut', 6.5, 7.5, { endKind: 'cut off' })] },
      ],
    };
    const [rise, cut] = integrate(trace, plan).peaks;
    expect(rise!.warnings.map((w) => w.code)).toEqual(['peak-without-maximum']);
    expect(rise!.retentionTime).toBe(2.8);
    expect(cut!.warnings.map((w) => w.code)).toEqual(['peak-cut-off']);
  });

  test('a peak over a gap and a peak with a flat top say so', () => {
    const clipped = traceAt(time, (i) => Math.min(40, trace.signal[i]!));
    const flat = integrate(clipped, planOf([plannedPeak('flat', 2.5, 3.3, { apex: 3 })], run)).peaks[0]!;
    expect(flat.warnings.map((w) => w.code)).toEqual(['peak-flat-top']);
    expect(flat.height).toBe(39);
    const kept = time.filter((t) => t < 6.9 || t > 7);
    const gappy = traceAt(kept, (i) => 1 + 30 * shape(kept[i]!, 7));
    const over = integrate(gappy, planOf([plannedPeak('gap', 6.5, 7.5, { apex: 7.01 })], run)).peaks[0]!;
    expect(over.warnings.map((w) => w.code)).toContain('peak-over-gap');
  });

  test('neither the record nor the plan is changed, and a frozen plan will do', () => {
    const freeze = (value: unknown): void => {
      if (typeof value !== 'object' || value === null) return;
      Object.freeze(value);
      Object.values(value).forEach(freeze);
    };
    const plan = planOf([plannedPeak('p', 2.5, 3.3, { apex: 3 })], run);
    freeze(plan);
    const before = structuredClone(trace);
    integrate(trace, plan);
    expect(trace).toStrictEqual(before);
  });

  test('moving a limit leaves the baselines and all other peaks as they were, to the bit', () => {
    const plan: IntegrationPlan = {
      baselines: [run],
      regions: [
        {
          start: 2.5,
          end: 4,
          peaks: [plannedPeak('left', 2.5, 3.3, { apex: 3 }), plannedPeak('right', 3.3, 4, { apex: 3.5 })],
        },
        { start: 6.5, end: 7.5, peaks: [plannedPeak('alone', 6.5, 7.5)] },
      ],
    };
    const moved: IntegrationPlan = structuredClone(plan);
    (moved.regions[0]!.peaks[0] as { start: number }).start = 2.6;
    const baselines = structuredClone(moved.baselines);
    const [before, after] = [integrate(trace, plan).peaks, integrate(trace, moved).peaks];
    expect(after[0]!.area).not.toBe(before[0]!.area);
    expect(after.slice(1)).toStrictEqual(before.slice(1));
    expect(after[0]!.baselineEnd).toBe(before[0]!.baselineEnd);
    expect(moved.baselines).toStrictEqual(baselines);
  });
});
