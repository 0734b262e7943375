import { describe, expect, test } from 'vitest';
import {
  analyse,
  convertSignal,
  createTrace,
  createWorkspace,
  cropTrace,
  renderResultJson,
  simulateTrace,
  type PeakRecipe,
  type Trace,
  type TraceRecipe,
} from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';

const gaussian = (retentionTime: number, height: number, sigma = 0.05): PeakRecipe => ({
  shape: 'gaussian',
  retentionTime,
  height,
  sigma,
});
const record = (seed: number, peaks: readonly PeakRecipe[], more: Partial<TraceRecipe> = {}): Trace =>
  simulateTrace({
    duration: 10,
    interval: 0.2,
    baseline: { offset: 3, drift: 6 },
    noise: { white: 0.05 },
    peaks,
    seed,
    ...more,
  }).trace;
const run = record(1, [gaussian(4, 40), gaussian(7, 200)]);
const blank = record(2, []);

describe('A blank', () => {
  test('gives the noise of the signal-to-noise ratio, around the place of the peak, and is named as its source', () => {
    const noisier = record(2, [], { noise: { white: 0.15 } });
    const plain = analyse(run);
    for (const [i, { signalToNoise, widths }] of analyse(run, {}, { blank: noisier }).peaks.entries()) {
      const { source, from, to, value } = signalToNoise!;
      expect(source).toBe('blank');
      expect((from + to) / 2).toBeCloseTo(plain.peaks[i]!.retentionTime, 6);
      expect(to - from).toBeCloseTo(20 * widths.halfHeight!, 9);
      // Three times the noise, and the range of a window scatters by about a tenth.
      expect(plain.peaks[i]!.signalToNoise!.value / value / 3).toBeGreaterThan(0.7);
      expect(plain.peaks[i]!.signalToNoise!.value / value / 3).toBeLessThan(1.4);
    }
  });

  test('with readings that range over 0.32 below a peak 5.4 high gives 33.75', () => {
    // European Pharmacopoeia 2.2.46: 2H/h, with h from a blank over at least five widths; readings worked by hand.
    const readings = [0.11, -0.05, 0.08, -0.12, 0.02, 0.15, -0.09, 0.04, -0.17, 0.1, 0.06, -0.03];
    const cycle = [...readings, ...readings.toReversed()];
    const quiet = record(1, [gaussian(5, 5.4)], { noise: { white: 1e-4 }, baseline: {} });
    const time = quiet.time;
    const of = createTrace({
      time,
      signal: time.map((_, i) => cycle[i % 24]!),
      timeUnit: 'min',
      signalUnit: 'mAU',
      injectedAt: 0,
    });
    const { noise, value } = analyse(quiet, { noiseWindow: 5 }, { blank: of }).peaks[0]!.signalToNoise!;
    // The window holds no whole number of cycles, so that the line through it tilts a little.
    expect(Math.abs(noise / 0.32 - 1)).toBeLessThan(0.02);
    expect(Math.abs(value / 33.75 - 1)).toBeLessThan(0.02);
  });

  test('changes no limit, no area and no baseline: nothing is subtracted', () => {
    const carried = record(2, [gaussian(4.01, 3)]);
    const plain = analyse(run);
    const informed = analyse(run, {}, { blank: carried });
    expect(informed.plan).toStrictEqual(plain.plan);
    expect(informed.baseline).toStrictEqual(plain.baseline);
    expect(informed.rejected).toStrictEqual(plain.rejected);
    expect(informed.peaks.map(({ area, height }) => [area, height])).toStrictEqual(
      plain.peaks.map(({ area, height }) => [area, height]),
    );
  });

  test('that has a peak at the place of one says so, with its area and its share', () => {
    const { peaks, units } = analyse(run, {}, { blank: record(2, [gaussian(4.01, 3)]) });
    const { inBlank, warnings } = peaks[0]!;
    expect(inBlank!.share!).toBeGreaterThan(7);
    expect(inBlank!.share!).toBeLessThan(8);
    // Height times sigma times the root of two pi, in seconds.
    expect(Math.abs(inBlank!.area / (3 * 0.05 * 60 * Math.sqrt(2 * Math.PI)) - 1)).toBeLessThan(0.02);
    expect(inBlank!.retentionTime).toBeCloseTo(4.01, 2);
    const warning = warnings.find(({ code }) => code === 'peak-in-blank')!;
    expect(warning.message).toContain(units.area);
    expect(warning.message).toContain('Nothing was subtracted');
    expect(peaks[1]!.inBlank).toBeUndefined();
  });

  test('with a peak beside the place, or one that points the other way, is no interference', () => {
    const { peaks } = analyse(run, {}, { blank: record(2, [gaussian(4.3, 3), gaussian(7, -3)]) });
    expect(peaks.map(({ inBlank }) => inBlank)).toStrictEqual([undefined, undefined]);
  });

  test('stands in the result with the widths of the run, also when written', () => {
    const analysis = analyse(run, {}, { blank });
    expect(analysis.blank!.trace).toBe(blank);
    expect(analysis.blank!.settings.peakWidth).toBe(analysis.settings.peakWidth);
    const written = JSON.parse(renderResultJson(analysis)) as { blank: { trace: object } };
    expect(Object.keys(written.blank.trace)).toContain('hash');
    expect(Object.keys(written.blank.trace)).not.toContain('signal');
    expect(analyse(run).blank).toBeUndefined();
  });

  test('of the same background is not warned about, wherever its zero was set; of another it is, with place', () => {
    const codes = (other: Trace) => analyse(run, {}, { blank: other }).warnings.map(({ code }) => code);
    expect(codes(blank)).toStrictEqual([]);
    expect(codes(record(2, [], { baseline: { offset: 30, drift: 6 } }))).toStrictEqual([]);
    expect(codes(record(2, [], { baseline: { offset: 3, drift: 30 } }))).toStrictEqual(['baseline-departs-from-blank']);
  });

  test('without noise below a run without noise gives no doubt that is only rounding', () => {
    const silent = { noise: {}, baseline: {} };
    const { warnings } = analyse(record(1, [gaussian(4, 40)], silent), {}, { blank: record(1, [], silent) });
    expect(warnings).toStrictEqual([]);
  });

  test('makes a rule about the least signal-to-noise ratio look at its noise', () => {
    const rules = [{ kind: 'least signal-to-noise', from: 0, to: 10, least: 100 }] as const;
    const noisy = record(2, [], { noise: { white: 1 } });
    expect(analyse(run, { rules }).peaks).toHaveLength(2);
    expect(analyse(run, { rules }, { blank: noisy }).peaks).toHaveLength(0);
  });

  test('in another unit is refused, and the message says what brings them together', () => {
    const error = thrownBy(() => analyse(run, {}, { blank: convertSignal(blank, 'AU') }));
    expect(error).toMatchObject({ code: 'unit-mismatch', details: { field: 'blank', value: 'AU', expected: 'mAU' } });
    expect(error.message).toContain('convertSignal');
  });

  test('shorter than the run is refused at either end, and one a little short is not', () => {
    for (const ends of [{ to: 9 }, { from: 1 }]) {
      const error = thrownBy(() => analyse(run, {}, { blank: cropTrace(blank, ends) }));
      expect(error).toMatchObject({ code: 'blank-too-short', details: { field: 'blank' } });
      expect(error.message).toContain('cropTrace');
    }
    expect(analyse(run, {}, { blank: cropTrace(blank, { to: 9.99 }) }).peaks).toHaveLength(2);
  });

  test('counted from another origin is warned about', () => {
    const { time, signal } = blank;
    const other = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
    expect(analyse(run, {}, { blank: other }).warnings.map(({ code }) => code)).toContain('blank-time-origin');
  });
});

describe('The third argument of analyse', () => {
  test('is options with a workspace, or the workspace alone, with the same result', () => {
    const workspace = createWorkspace();
    const expected = analyse(run);
    expect(analyse(run, {}, workspace)).toStrictEqual(expected);
    expect(analyse(run, {}, { workspace })).toStrictEqual(expected);
    expect(analyse(run, {}, { workspace, blank })).toStrictEqual(analyse(run, {}, { blank }));
  });

  test('refuses an option it does not know', () => {
    const error = thrownBy(() => analyse(run, {}, { blanc: blank } as object));
    expect(error).toMatchObject({ code: 'option-unknown', details: { field: 'blanc' } });
    expect(error.message).toContain('did you mean blank?');
  });
});
