import { describe, expect, test } from 'vitest';
import { analyse, simulateTrace, testRecovery, type PeakRecipe, type Trace } from '../../../src/index.js';

const even = { duration: 20, interval: 0.2 };
const peak: PeakRecipe = { shape: 'gaussian', name: 'vanillin', retentionTime: 8, height: 20, sigma: 0.06 };
const blank = (white: number, seed = 1): Trace => simulateTrace({ ...even, noise: { white }, seed }).trace;
const fast = { limits: false } as const;

const quiet = simulateTrace(even).trace;

describe('testRecovery', () => {
  test('finds all of a peak in a record without noise, in every repeat', () => {
    const { peaks, warnings, before } = testRecovery(quiet, [peak], {}, { ...fast, repeats: 5 });
    expect(peaks).toHaveLength(1);
    expect(peaks[0]).toMatchObject({ name: 'vanillin', retentionTime: 8, foundShare: 1, warnings: [] });
    // Area of a Gaussian: height sigma √(2 pi).
    expect(peaks[0]!.area).toBeCloseTo(20 * 0.06 * 60 * Math.sqrt(2 * Math.PI), 9);
    expect(Math.abs(peaks[0]!.bias!)).toBeLessThan(1e-6);
    expect(peaks[0]!.repeatability).toBeLessThan(1e-6);
    expect(peaks[0]!.repeats.map((r) => r.recovery)).toEqual(Array(5).fill(expect.closeTo(1, 6)));
    expect(new Set(peaks[0]!.repeats.map((r) => r.retentionTime)).size).toBe(5);
    expect(warnings).toEqual([]);
    expect(before.peaks).toEqual([]);
  });

  test('repeats as well as the noise of the samples under the peak allows', () => {
    // Independent readings: the sum of n of them, each s, times the interval scatters by s · interval · √n.
    const { peaks } = testRecovery(blank(0.05), [peak], {}, { ...fast, repeats: 200 });
    const analysed = analyse(simulateTrace({ ...even, peaks: [peak], noise: { white: 0.05 }, seed: 1 }).trace)
      .peaks[0]!;
    const n = ((analysed.end - analysed.start) * 60) / 0.2;
    const expected = (0.05 * 0.2 * Math.sqrt(n)) / peaks[0]!.area;
    // The baseline adds to it; limits differ from repeat to repeat; the repeats share the noise of one record.
    expect(peaks[0]!.repeatability! / expected).toBeGreaterThan(0.7);
    expect(peaks[0]!.repeatability! / expected).toBeLessThan(1.8);
    expect(Math.abs(peaks[0]!.bias!)).toBeLessThan(3 * expected);
    expect(peaks[0]!.biasUncertainty! * Math.sqrt(200)).toBeCloseTo(peaks[0]!.repeatability!, 12);
  });

  test('sees a bias that is there: the drop line between two that overlap gives the large one what the small one loses', () => {
    const pair = [1, 1].map((_, i) => ({
      ...peak,
      name: `${i}`,
      retentionTime: 8 + i * 0.24,
      height: 10 / (1 + 3 * i),
    }));
    const { peaks } = testRecovery(quiet, pair, { divider: 'drop line' }, { ...fast, repeats: 5 });
    // The same by hand: two Gaussians 4 sigma apart, 4 to 1, cut at the valley between them.
    const value = (t: number, k: number): number =>
      pair[k]!.height * Math.exp(-0.5 * ((t - pair[k]!.retentionTime) / 0.06) ** 2);
    let valley = 8.1;
    for (let t = 8.1; t < 8.24; t += 1e-5)
      if (value(t, 0) + value(t, 1) < value(valley, 0) + value(valley, 1)) valley = t;
    let small = 0;
    for (let t = valley; t < 9; t += 1e-5) small += (value(t, 0) + value(t, 1)) * 60e-5;
    const bias = small / peaks[1]!.area - 1;
    expect(bias).toBeLessThan(-0.02);
    expect(peaks[1]!.bias).toBeCloseTo(bias, 3);
    expect(peaks[0]!.bias! * peaks[0]!.area).toBeCloseTo(-bias * peaks[1]!.area, 1);
  });

  test('takes off what was there before: a standard addition', () => {
    const run = simulateTrace({
      ...even,
      peaks: [
        { ...peak, height: 33 },
        { ...peak, retentionTime: 12 },
      ],
    }).trace;
    const { peaks, warnings } = testRecovery(run, [peak], {}, { repeats: 4 });
    expect(peaks[0]!.recovery).toBeCloseTo(1, 4);
    expect(peaks[0]!.repeats.every((r) => Math.abs(r.retentionTime - 8) <= 0.1 / 60 + 1e-12)).toBe(true); // half a sample
    expect(peaks[0]!.warnings.map((w) => w.code)).toEqual(['recovery-peak-there']);
    expect(peaks[0]).not.toHaveProperty('detectionLimit');
    expect(warnings.map((w) => w.code)).toEqual(['recovery-one-place']);
  });

  test('keeps clear of the peaks of the record, and of its ends', () => {
    const run = simulateTrace({
      ...even,
      peaks: [
        { ...peak, retentionTime: 7 },
        { ...peak, retentionTime: 9 },
      ],
    }).trace;
    const { peaks } = testRecovery(run, [peak], {}, { ...fast, repeats: 30 });
    for (const { retentionTime } of peaks[0]!.repeats) {
      expect(Math.min(Math.abs(retentionTime - 7), Math.abs(retentionTime - 9))).toBeGreaterThan(0.2);
    }
    const late = testRecovery(quiet, [{ ...peak, retentionTime: 19.8 }], {}, { ...fast, repeats: 30 }).peaks[0]!;
    expect(Math.max(...late.repeats.map((r) => r.retentionTime))).toBeLessThan(20 - 2.4 * 0.06);
    expect(late.foundShare).toBe(1);
  });

  test('puts the peaks at several places in turn, their distances kept', () => {
    const two = [peak, { ...peak, retentionTime: 8.5 }];
    const { peaks } = testRecovery(quiet, two, {}, { ...fast, repeats: 4, places: [3, 15], moveBy: 0 });
    expect(peaks[0]!.repeats.map((r) => r.retentionTime)).toEqual(
      [3, 15, 3, 15].map((t): unknown => expect.closeTo(t, 9)),
    );
    expect(peaks[1]!.repeats.map((r) => r.retentionTime)).toEqual(
      [3.5, 15.5, 3.5, 15.5].map((t): unknown => expect.closeTo(t, 9)),
    );
  });

  test('the same seed gives the same repeats, another seed others', () => {
    const of = (seed: number) => testRecovery(blank(0.05), [peak], {}, { ...fast, repeats: 3, seed }).peaks;
    expect(of(4)).toEqual(of(4));
    expect(of(5)).not.toEqual(of(4));
  });

  test('nothing given is changed', () => {
    const record = blank(0.05);
    const copy = structuredClone(record);
    const recipe = structuredClone(peak);
    testRecovery(record, [recipe], {}, { ...fast, repeats: 2 });
    expect(record).toEqual(copy);
    expect(recipe).toEqual(peak);
  });
});

describe('The limits of testRecovery', () => {
  const limits = (white: number, added = peak) => testRecovery(blank(white), [added], {}, { repeats: 20 }).peaks[0]!;
  const once = limits(0.05);

  test('hold where they say, and no longer hold a third below', () => {
    const at = (height: number) => testRecovery(blank(0.05), [{ ...peak, height }], {}, { ...fast, repeats: 20 }).peaks[0]!; // prettier-ignore
    const { detectionLimit, quantificationLimit } = once;
    expect(at(detectionLimit!.height).foundShare).toBeGreaterThanOrEqual(0.95);
    expect(at(detectionLimit!.height / 1.5).foundShare).toBeLessThan(0.95);
    const { bias, repeatability } = at(quantificationLimit!.height);
    expect(Math.hypot(bias!, repeatability! * Math.sqrt(19 / 20))).toBeLessThanOrEqual(0.1 + 1e-9);
    expect(detectionLimit!.area / detectionLimit!.height).toBeCloseTo(once.area / 20, 9);
    expect(quantificationLimit!.area).toBeGreaterThanOrEqual(detectionLimit!.area);
  });

  test('scale with the noise, not with the size of the peak that was added', () => {
    const noisy = limits(0.4);
    expect(noisy.detectionLimit!.height / once.detectionLimit!.height / 8).toBeGreaterThan(1 / 1.06);
    expect(noisy.detectionLimit!.height / once.detectionLimit!.height / 8).toBeLessThan(1.06);
    const larger = limits(0.05, { ...peak, height: 300 });
    expect(larger.detectionLimit!.height / once.detectionLimit!.height).toBeGreaterThan(1 / 1.06);
    expect(larger.detectionLimit!.height / once.detectionLimit!.height).toBeLessThan(1.06);
  });

  test('are what the noise of the record promises', () => {
    // Asked for is a signal-to-noise ratio 2H/h; the range h of the 850 independent readings of twenty half widths is
    // 6.4 standard deviations (Tippett, Biometrika 17 (1925) 364, from memory: 6.48 for 1000).
    const asked = analyse(blank(0.05)).settings.leastSignalToNoise;
    expect(once.detectionLimit!.height / ((asked * 6.4 * 0.05) / 2)).toBeGreaterThan(0.9);
    expect(once.detectionLimit!.height / ((asked * 6.4 * 0.05) / 2)).toBeLessThan(1.4);
    // A matched sum of independent readings knows the height of a Gaussian to s / √(√pi sigma / interval) (common
    // practice, no source): to 10 % from ten times that on. No integration without knowledge of the shape does as well.
    const floor = (10 * 0.05) / Math.sqrt((Math.sqrt(Math.PI) * 0.06 * 60) / 0.2);
    const { height } = testRecovery(blank(0.05), [peak], {}, { errorShare: 0.1, foundShare: 0.01 }).peaks[0]!.quantificationLimit!; // prettier-ignore
    expect(height / floor).toBeGreaterThan(1);
    const strict = testRecovery(blank(0.05), [peak], {}, { errorShare: 0.01 }).peaks[0]!.quantificationLimit!;
    expect(strict.height / (10 * floor)).toBeGreaterThan(1);
    expect(strict.height / (10 * floor)).toBeLessThan(4);
  });

  test('are absent, with the reason, where they cannot be given', () => {
    const { detectionLimit, warnings } = testRecovery(quiet, [peak], {}, { repeats: 2 }).peaks[0]!;
    expect(detectionLimit).toBeUndefined();
    expect(warnings.map((w) => w.code)).toEqual(['recovery-limit-absent', 'recovery-limit-absent']);
    expect(warnings[0]!.message).toContain('no limit of detection: even 16384 times smaller it is found');
    const hidden = [
      { ...peak, height: 1000 },
      { ...peak, retentionTime: 8.06, height: 1e-5 },
    ];
    const lost = testRecovery(quiet, hidden, {}, { repeats: 2 }).peaks[1]!;
    expect(lost.foundShare).toBe(0);
    expect(lost).not.toHaveProperty('recovery');
    expect(lost).not.toHaveProperty('detectionLimit');
    expect(lost.warnings.map((w) => w.code)).toEqual([
      'recovery-missed',
      'recovery-limit-absent',
      'recovery-limit-absent',
    ]);
    expect(lost.warnings[1]!.message).toContain('not even 1024 times as large');
  });
});

describe('testRecovery refuses', () => {
  const wrong: readonly [string, unknown, unknown][] = [
    ['peaks', [], {}],
    ['peaks[0].sigma', [{ ...peak, sigma: 0 }], {}],
    ['peaks[0].height', [{ ...peak, height: 0 }], {}],
    ['peaks', [{ ...peak, retentionTime: 30 }], {}],
    ['places[1]', [peak], { places: [5, 30] }],
    ['places[0]', [peak], { places: ['x'] }],
    ['repeats', [peak], { repeats: 1 }],
    ['moveBy', [peak], { moveBy: -1 }],
    ['seed', [peak], { seed: 0.5 }],
    ['limits', [peak], { limits: 'yes' }],
    ['foundShare', [peak], { foundShare: 0 }],
    ['errorShare', [peak], { errorShare: 0 }],
  ];
  test.each(wrong)('a wrong %s and names it', (field, peaks, options) => {
    expect(() => testRecovery(quiet, peaks as PeakRecipe[], {}, options as object)).toThrow(
      expect.objectContaining({ code: 'option-invalid', details: expect.objectContaining({ field }) }),
    );
  });

  test('an option it does not have', () => {
    expect(() => testRecovery(quiet, [peak], {}, { repeat: 3 } as object)).toThrow(
      expect.objectContaining({ code: 'option-unknown', message: expect.stringContaining('did you mean repeats') }),
    );
  });
});
