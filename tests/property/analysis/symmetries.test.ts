import { describe, expect, test } from 'vitest';
import {
  analyse,
  createTrace,
  createWorkspace,
  pinMethod,
  type Analysis,
  type Peak,
  type Trace,
} from '../../../src/index.js';
import { vanillaRun, withSignal } from '../../support/runs.js';

const seeds = [1, 2, 3, 4, 5];

/** Everything of an analysis but the record itself and what names the scratch space. */
function result({
  peaks,
  rejected,
  regions,
  baseline,
  noise,
  disturbances,
  warnings,
  settings,
  plan,
}: Analysis): unknown {
  return { peaks, rejected, regions, baseline, noise, disturbances, warnings, settings, plan };
}

/** The record without every third sample. */
function uneven({ time, signal }: Trace): { time: Float64Array; signal: Float64Array } {
  const keep = (_: number, i: number): boolean => i % 3 !== 1;
  return { time: time.filter(keep), signal: signal.filter(keep) };
}

/** Same peaks: times within a thousandth of a minute, and number for number as `scale` says, within `tolerance`. */
function expectSamePeaks(
  received: readonly Peak[],
  expected: readonly Peak[],
  tolerance: number,
  { factor = 1, shift = 0 } = {},
): void {
  expect(received.map((p) => (p.retentionTime - shift).toFixed(2))).toEqual(
    expected.map((p) => p.retentionTime.toFixed(2)),
  );
  received.forEach((peak, i) => {
    const other = expected[i]!;
    const u = other.areaUncertainty! * Math.abs(factor);
    // Of the area, or of its uncertainty when that is larger.
    expect(Math.abs(peak.area - factor * other.area), `area of peak ${i}`).toBeLessThan(
      tolerance * Math.max(Math.abs(factor * other.area), u),
    );
    expect(Math.abs(peak.height / (factor * other.height) - 1)).toBeLessThan(tolerance);
    expect(Math.abs(peak.areaUncertainty! / u - 1)).toBeLessThan(tolerance);
    expect(Math.abs(peak.start - shift - other.start)).toBeLessThan(tolerance);
    expect(Math.abs(peak.end - shift - other.end)).toBeLessThan(tolerance);
  });
}

describe('an analysis', () => {
  test('finds the five peaks of the run these laws are held on', () => {
    for (const seed of seeds) {
      const { peaks } = analyse(vanillaRun(seed));
      expect(peaks).toHaveLength(5);
      peaks.forEach((p, i) => {
        expect(Math.abs(p.retentionTime - [3, 4.6, 6.5, 6.75, 9][i]!)).toBeLessThan(0.01);
      });
    }
  });

  test('changes nothing it is given', () => {
    const trace = vanillaRun(1);
    const before = structuredClone(trace);
    const method = Object.freeze({ takeAsPeak: Object.freeze([3]) });
    analyse(trace, method);
    expect(trace).toStrictEqual(before);
  });

  test('gives the same bits twice, with a fresh workspace, and with one that other runs have used', () => {
    const trace = vanillaRun(1);
    const expected = result(analyse(trace));
    expect(result(analyse(trace))).toStrictEqual(expected);
    const workspace = createWorkspace();
    const others = [vanillaRun(2, { duration: 30, interval: 0.1 }), vanillaRun(3, { duration: 1, interval: 1 }), trace];
    // A step, a sharp bend, spikes and an uneven axis leave other things behind.
    others.push(withSignal(trace, (y, i) => y + (i > 2400 ? 30 : 0) + (i === 400 ? 500 : 0)));
    others.push(withSignal(trace, (y, i) => y + Math.max(0, trace.time[i]! - 10) * 100));
    others.push(withSignal(trace, (y, i) => y + (i > 1500 && i < 1600 ? 30 : 0)));
    others.push(createTrace({ ...uneven(trace), timeUnit: 'min', signalUnit: 'mAU', injectedAt: 0 }));
    for (const other of others) {
      analyse(other, {}, workspace);
      expect(result(analyse(trace, {}, workspace))).toStrictEqual(expected);
    }
  });

  test('is not changed by later analyses with the same workspace', () => {
    const workspace = createWorkspace();
    const first = analyse(vanillaRun(1), {}, workspace);
    const before = structuredClone(result(first));
    analyse(vanillaRun(2), {}, workspace);
    expect(result(first)).toStrictEqual(before);
  });

  test('gives the same bits again under its pinned method', () => {
    for (const seed of seeds) {
      const first = analyse(vanillaRun(seed));
      const again = analyse(vanillaRun(seed), pinMethod(first));
      for (const part of ['peaks', 'baseline', 'plan', 'regions', 'rejected', 'settings'] as const) {
        expect(again[part]).toStrictEqual(first[part]);
      }
    }
  });

  test('of a signal times a power of two, fitted, has areas times it to a part in a million', () => {
    const trace = vanillaRun(1);
    const one = analyse(trace);
    for (const power of [-20, 10]) {
      const factor = 2 ** power;
      const other = analyse(withSignal(trace, (y) => y * factor));
      expect(other.peaks.map((p) => p.id)).toEqual(one.peaks.map((p) => p.id));
      other.peaks.forEach((p, i) => {
        expect(Math.abs(p.area / (factor * one.peaks[i]!.area) - 1)).toBeLessThan(1e-6);
      });
    }
  });

  test('of a signal times a power of two, divided at the valleys, has heights and areas times it, to the bit, at the same times', () => {
    const trace = vanillaRun(1);
    const one = analyse(trace, { divider: 'drop line' });
    for (const power of [-20, -3, 1, 10, 30]) {
      const factor = 2 ** power;
      const other = analyse(
        withSignal(trace, (y) => y * factor),
        { divider: 'drop line' },
      );
      const numbers = (a: Analysis, f: number): unknown =>
        a.peaks.map((p) => [
          p.id,
          p.retentionTime,
          p.start,
          p.end,
          p.startKind,
          p.endKind,
          p.height * f,
          p.area * f,
          p.areaUncertainty! * f,
          p.widths,
          p.plates,
          p.tailingFactor,
          p.signalToNoise!.value,
        ]);
      expect(numbers(other, 1)).toEqual(numbers(one, factor));
      expect(other.baseline.value).toEqual(one.baseline.value.map((v) => v * factor));
      expect(other.rejected.map((r) => [r.at, r.test, r.value])).toEqual(
        one.rejected.map((r) => [r.at, r.test, r.value]),
      );
    }
  });

  // Rounding: readings near 1000 keep 1e-13 of themselves, the smallest peak is 3 high and 1e-9 of that is left to spare.
  test('of a signal with a constant added is the same', () => {
    for (const seed of seeds) {
      const trace = vanillaRun(seed);
      const one = analyse(trace);
      expectSamePeaks(analyse(withSignal(trace, (y) => y + 1000)).peaks, one.peaks, 1e-6);
      expectSamePeaks(analyse(withSignal(trace, (y) => y - 70)).peaks, one.peaks, 1e-6);
    }
  });

  test('of times in seconds is that of times in minutes', () => {
    const trace = vanillaRun(1);
    const seconds = createTrace({
      time: trace.time.map((t) => 60 * t),
      signal: trace.signal,
      timeUnit: 's',
      signalUnit: 'mAU',
      injectedAt: 0,
    });
    expectSamePeaks(analyse(seconds).peaks, analyse(trace).peaks, 1e-8);
  });

  test('of the signal upside down has the same peaks, pointing down', () => {
    for (const seed of seeds) {
      const trace = vanillaRun(seed);
      const up = analyse(trace);
      const down = analyse(withSignal(trace, (y) => -y));
      expect(down.disturbances).toEqual([]);
      expect(down.peaks.every((p) => p.direction === 'down' && p.height < 0 && p.area < 0)).toBe(true);
      expectSamePeaks(down.peaks, up.peaks, 1e-9, { factor: -1 });
    }
  });

  test('has no threshold that depends on the tallest peak: one a thousand times taller changes no other', () => {
    for (const seed of seeds) {
      const recipe = (height: number): Trace =>
        vanillaRun(seed, {
          peaks: [
            { shape: 'gaussian', retentionTime: 3, height, sigma: 0.04 },
            { shape: 'gaussian', retentionTime: 4.6, height: 2, sigma: 0.045 },
            { shape: 'gaussian', retentionTime: 6.5, height: 1, sigma: 0.05 },
            { shape: 'gaussian', retentionTime: 9, height: 0.8, sigma: 0.06 },
          ],
        });
      const times = (height: number): string[] => analyse(recipe(height)).peaks.map((p) => p.retentionTime.toFixed(1));
      expect(times(2)).toEqual(['3.0', '4.6', '6.5', '9.0']);
      expect(times(2000)).toEqual(times(2));
    }
  });
});

describe('every decision is explained', () => {
  test('every peak says why it is one, why it starts and why it ends', () => {
    for (const seed of seeds) {
      for (const peak of analyse(vanillaRun(seed)).peaks) {
        expect(peak.decisions.map((d) => d.about).sort()).toEqual(['end', 'peak', 'start']);
        for (const d of peak.decisions) {
          expect(d.rule).not.toBe('');
          expect(d.text).toMatch(/\.$/);
        }
        expect(peak.decisions.find((d) => d.about === 'start')!.at).toBe(peak.start);
        expect(peak.decisions.find((d) => d.about === 'end')!.at).toBe(peak.end);
      }
    }
  });

  test('every rejected place says which test it failed, with value and limit', () => {
    const all = seeds.flatMap((seed) => [
      ...analyse(vanillaRun(seed, { noise: { white: 1 } })).rejected,
      ...analyse(vanillaRun(seed, { noise: { correlated: { standardDeviation: 0.5, timeConstant: 20 } } })).rejected,
    ]);
    expect(all.length).toBeGreaterThan(5);
    for (const r of all) {
      expect(r.test).not.toBe('');
      expect([r.at, r.height, r.value, r.limit].every(Number.isFinite)).toBe(true);
      expect(r.text).toMatch(/\.$/);
    }
  });
});
