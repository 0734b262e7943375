import { describe, expect, test } from 'vitest';
import {
  areaPercents,
  createTrace,
  measurePeak,
  measureResolution,
  peakToValley,
  type Trace,
} from '../../../src/index.js';

const zero = { id: 'zero', kind: 'straight', time: [0], value: [0] } as const;

function traceOf(f: (t: number) => number, from = 4, to = 6, step = 0.005): Trace {
  const n = Math.round((to - from) / step) + 1;
  const time = Float64Array.from({ length: n }, (_, i) => from + i * step);
  return createTrace({ time, signal: time.map(f), timeUnit: 'min', signalUnit: 'mAU' });
}

const gauss = (t: number, at = 5, sigma = 0.05): number => Math.exp(-0.5 * ((t - at) / sigma) ** 2);
const peak = { retentionTime: 5, height: 100, start: 4.7, end: 5.3, direction: 'up' } as const;

describe('measurePeak', () => {
  test('measures a peak that points down as its mirror image', () => {
    const up = measurePeak(
      traceOf((t) => 100 * gauss(t)),
      peak,
      zero,
    );
    const down = measurePeak(
      traceOf((t) => -100 * gauss(t)),
      { ...peak, height: -100, direction: 'down' },
      zero,
    );
    expect(down.widths).toEqual(up.widths);
    expect(down.plates).toEqual(up.plates);
    expect(down.moments!.zeroth).toBe(-up.moments!.zeroth);
  });

  test('measures above the baseline of the peak, also where that bends', () => {
    const bent = { id: 'bent', kind: 'knots', time: [4, 4.9, 5.05, 6], value: [10, 30, 20, 60] };
    const level = (t: number): number =>
      t < 4.9 ? 10 + (t - 4) * (20 / 0.9) : t < 5.05 ? 30 - (t - 4.9) * (10 / 0.15) : 20 + (t - 5.05) * (40 / 0.95);
    const flat = measurePeak(
      traceOf((t) => 100 * gauss(t)),
      peak,
      zero,
    );
    const lifted = measurePeak(
      traceOf((t) => 100 * gauss(t) + level(t)),
      peak,
      bent,
    );
    for (const name of ['halfHeight', 'tenPercent', 'fivePercent', 'tangent'] as const) {
      expect(lifted.widths[name]).toBeCloseTo(flat.widths[name]!, 9);
    }
  });

  test('never extrapolates: a level below the valley is absent and a warning says so', () => {
    // Cut at 1.5 sigma behind the apex, where the peak stands at 32 %.
    const measures = measurePeak(
      traceOf((t) => 100 * gauss(t)),
      { ...peak, end: 5.075 },
      zero,
    );
    expect(measures.widths.halfHeight).toBeCloseTo(0.1177, 3);
    expect(measures.widths.tenPercent).toBeUndefined();
    expect(measures.widths.fivePercent).toBeUndefined();
    expect(measures.asymmetry).toBeUndefined();
    expect(measures.tailingFactor).toBeUndefined();
    expect(measures.warnings.map((w) => w.code)).toEqual(['width-absent', 'width-absent']);
    expect(measures.warnings[0]!.message).toBe(
      'The peak at 5.000 min has no width at 10 %: a flank ends above it or is lost in noise.',
    );
  });

  test('stops at the first crossing and does not count a rider further out', () => {
    const measures = measurePeak(
      traceOf((t) => 100 * gauss(t) + 20 * gauss(t, 5.3, 0.02)),
      { ...peak, end: 5.5 },
      zero,
    );
    expect(measures.widths.tenPercent).toBeCloseTo(0.2146, 3);
  });

  test('leaves out the plate number by Foley and Dorsey on a fronting peak', () => {
    const fronting = (t: number): number => gauss(t, 5, t < 5 ? 0.08 : 0.05);
    const measures = measurePeak(
      traceOf((t) => 100 * fronting(t)),
      { ...peak, start: 4.5 },
      zero,
    );
    expect(measures.asymmetry).toBeCloseTo(0.05 / 0.08, 2);
    expect(measures.plates.foleyDorsey).toBeUndefined();
    expect(measures.plates.halfHeight).toBeGreaterThan(0);
    expect(measures.warnings.map((w) => w.code)).toContain('plates-absent');
  });

  test('takes no plate number before the injection', () => {
    const trace = traceOf((t) => 100 * gauss(t, -1), -2, 0);
    const measures = measurePeak(trace, { ...peak, retentionTime: -1, start: -1.3, end: -0.7 }, zero);
    expect(measures.plates).toEqual({});
    expect(measures.widths.halfHeight).toBeGreaterThan(0);
  });

  test('leaves out moments of a stretch without net area', () => {
    const trace = traceOf((t) => gauss(t) - 2 * gauss(t, 5.2));
    const measures = measurePeak(trace, { ...peak, height: 1, end: 5.5 }, zero);
    expect(measures.moments).toBeUndefined();
    expect(measures.plates.moments).toBeUndefined();
    expect(measures.warnings.map((w) => w.code)).toContain('moments-absent');
  });

  test.each([
    ['no height above its baseline', { ...peak, height: 0 }],
    ['fewer than three samples', { ...peak, start: 5.001, end: 5.002 }],
  ])('says when a peak has %s', (why, odd) => {
    const measures = measurePeak(
      traceOf((t) => 100 * gauss(t)),
      odd,
      zero,
    );
    expect(measures.widths).toEqual({});
    expect(measures.warnings[0]).toMatchObject({ code: 'peak-not-measurable', at: 5 });
    expect(measures.warnings[0]!.message).toContain(why);
  });

  test('measures a narrow peak inside limits a thousand times as wide', () => {
    const trace = traceOf((t) => 100 * gauss(t, 50, 0.01), 0, 100, 0.001);
    const measures = measurePeak(trace, { ...peak, retentionTime: 50, start: 0, end: 100 }, zero);
    expect(measures.widths.halfHeight! / 0.0235482).toBeCloseTo(1, 2);
  });

  test('gives no number that is not finite, whatever the samples', () => {
    const shapes = [
      (): number => 0,
      (t: number): number => t,
      (t: number): number => (t > 5 ? 100 : 0),
      (t: number): number => (Math.abs(t - 5) < 0.003 ? 100 : 0),
    ];
    for (const f of shapes) {
      const text = JSON.stringify(measurePeak(traceOf(f), peak, zero), (_, v: unknown) =>
        typeof v === 'number' && !Number.isFinite(v) ? 'not finite' : v,
      );
      expect(text).not.toContain('not finite');
    }
  });

  test('refuses an option it does not know and a span out of range', () => {
    const trace = traceOf((t) => gauss(t));
    expect(() => measurePeak(trace, peak, zero, { crossingSpann: 1 } as object)).toThrow('did you mean crossingSpan?');
    expect(() => measurePeak(trace, peak, zero, { tangentSpan: 0 })).toThrow('a number from 0.1 to 2');
  });
});

test('resolution leaves out the definition whose width is missing', () => {
  const a = { id: 'a', retentionTime: 5, widths: { halfHeight: 0.1 } };
  const b = { id: 'b', retentionTime: 6, widths: { halfHeight: 0.1, tangent: 0.2 } };
  expect(measureResolution(a, b)).toEqual({ against: 'a', halfHeight: expect.closeTo(5.887050112577373, 12) });
});

test('area percent is the share of the summed magnitudes, and absent when there is nothing to share', () => {
  expect(areaPercents([30, 60, -10])).toEqual([30, 60, 10]);
  expect(areaPercents([0, 0])).toEqual([undefined, undefined]);
});

test('a valley that reaches the baseline gives its place and no ratio', () => {
  const trace = traceOf((t) => gauss(t, 4.5) + gauss(t, 5.5) - 0.001);
  const at = (retentionTime: number) => ({ retentionTime, height: 1, direction: 'up' as const });
  const result = peakToValley(trace, at(4.5), at(5.5), zero);
  expect(result.value).toBeUndefined();
  expect(result.warnings[0]!.code).toBe('peak-to-valley-absent');
  expect(peakToValley(trace, at(4.5), { ...at(5.5), direction: 'down' }, zero).warnings[0]!.message).toContain(
    'different ways',
  );
});
