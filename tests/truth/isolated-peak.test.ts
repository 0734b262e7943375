import { describe, expect, test } from 'vitest';
import {
  analyse,
  createTrace,
  createWorkspace,
  simulateTrace,
  type NoiseRecipe,
  type Peak,
  type PeakRecipe,
  type Trace,
} from '../../src/index.js';
import { statistics } from '../support/statistics.js';
import { repeatableNumbers } from '../support/traces.js';

const runs = 100;
const sigma = 0.05;
const workspace = createWorkspace();
/** Range of the some hundred readings in twenty half widths over their standard deviation: a ratio of 2H/h has noise H / (3 ratio). */
const noiseAt = (ratio: number, height = 100): number => height / (3 * ratio);

const peak = (height: number, tau: number, retentionTime = 5): PeakRecipe => ({
  shape: 'emg',
  retentionTime,
  height,
  sigma,
  tau,
});

interface Scenario {
  readonly noise: NoiseRecipe;
  readonly peaks: readonly PeakRecipe[];
  /** Takes samples away, or moves them. */
  readonly change?: (trace: Trace, seed: number) => Trace;
}

/** The peak at 5 min of every run, and its true area [mAU s]. */
function found({ noise, peaks, change }: Scenario): { peaks: Peak[]; area: number; others: number } {
  const all: Peak[] = [];
  let area = 0;
  let others = 0;
  for (let seed = 1; seed <= runs; seed++) {
    const { trace, truth } = simulateTrace({
      duration: 10,
      interval: 0.4,
      baseline: { offset: 2, drift: 10 },
      noise,
      seed,
      peaks,
    });
    area = truth.peaks.find((p) => p.retentionTime === 5)!.area;
    const analysis = analyse(change?.(trace, seed) ?? trace, {}, workspace);
    const here = analysis.peaks.filter((p) => Math.abs(p.retentionTime - 5) < 0.05);
    if (here.length === 1) all.push(here[0]!);
    others += analysis.peaks.length - here.length;
  }
  return { peaks: all, area, others };
}

const scenarios: Readonly<Record<string, Scenario>> = {
  'a Gaussian at a signal-to-noise ratio of 100': { noise: { white: noiseAt(100) }, peaks: [peak(100, 0)] },
  'a Gaussian at a signal-to-noise ratio of 20': { noise: { white: noiseAt(20) }, peaks: [peak(100, 0)] },
  'a Gaussian at a signal-to-noise ratio of 10': { noise: { white: noiseAt(10) }, peaks: [peak(100, 0)] },
  'a tailing peak, tau half sigma, at 20': { noise: { white: noiseAt(20) }, peaks: [peak(100, 0.025)] },
  'a peak that points down, at 20, after one that does not': {
    noise: { white: noiseAt(20) },
    peaks: [peak(100, 0, 2.5), peak(-100, 0)],
  },
  'a Gaussian between two taller ones, at 20': {
    noise: { white: noiseAt(20) },
    peaks: [peak(800, 0, 4), peak(100, 0), peak(1500, 0, 6.2)],
  },
  'a Gaussian in noise correlated over 2 s, at 20': {
    noise: { correlated: { standardDeviation: noiseAt(20), timeConstant: 2 } },
    peaks: [peak(100, 0)],
  },
  'a Gaussian on an uneven axis, at 20': {
    noise: { white: noiseAt(20) },
    peaks: [peak(100, 0)],
    change: thinned,
  },
};

/** A third of the samples taken out at random. */
function thinned(trace: Trace, seed: number): Trace {
  const random = repeatableNumbers(seed);
  const kept = Array.from(trace.time.keys()).filter((i) => i === 0 || random() > 1 / 3);
  return createTrace({
    time: kept.map((i) => trace.time[i]!),
    signal: kept.map((i) => trace.signal[i]!),
    timeUnit: 'min',
    signalUnit: 'mAU',
    injectedAt: 0,
  });
}

describe.each(Object.entries(scenarios))('%s', (_, scenario) => {
  const { peaks, area, others } = found(scenario);
  const errors = peaks.map((p) => p.area - area);

  test('is found in every run, and nothing else but what is there', () => {
    expect(peaks).toHaveLength(runs);
    expect(others).toBe((scenario.peaks.length - 1) * runs);
  });

  test('has an area without bias', () => {
    const { mean, error } = statistics(errors);
    // What lies beyond the limits, within the noise of the baseline, is at most 0.15 %; three standard errors.
    expect(Math.abs(mean), `bias ${((100 * mean) / area).toFixed(3)} %`).toBeLessThan(
      3 * error + 0.0015 * Math.abs(area),
    );
  });

  test('has an uncertainty of its area that is neither too small nor too large', () => {
    const ratio = statistics(errors.map((e, i) => e / peaks[i]!.areaUncertainty!)).rms;
    // One, within 0.7 and 1.3; a hundred runs alone scatter by 0.07.
    expect(ratio).toBeGreaterThan(0.7);
    expect(ratio).toBeLessThan(1.3);
  });

  test('has the right sign of height and area, and its apex within a tenth of sigma', () => {
    const sign = Math.sign(area);
    for (const p of peaks) {
      expect(p.direction).toBe(sign > 0 ? 'up' : 'down');
      expect(Math.sign(p.height)).toBe(sign);
      expect(Math.sign(p.area)).toBe(sign);
    }
    expect(statistics(peaks.map((p) => p.retentionTime - 5)).rms).toBeLessThan(0.1 * sigma);
  });
});

describe('the shape of a peak at a signal-to-noise ratio of 100', () => {
  // Exact for sigma 1, tau 1 (90-digit evaluation of the closed form): widths at 50, 10 and 5 % and of the tangents, tailing, B/A.
  const exact = { halfHeight: 2.89089038, tenPercent: 5.66326772, fivePercent: 6.67955492, tangent: 4.94489546 };
  const { peaks } = found({ noise: { white: noiseAt(100) }, peaks: [peak(100, sigma)] });

  test.each([
    ['halfHeight', 0.005],
    ['tenPercent', 0.006],
    ['fivePercent', 0.01],
    ['tangent', 0.01],
  ] as const)('has the width %s, off by %d at most in the mean', (name, within) => {
    const ratios = peaks.map((p) => p.widths[name]! / (exact[name] * sigma) - 1);
    expect(ratios).toHaveLength(runs);
    expect(Math.abs(statistics(ratios).mean)).toBeLessThan(within);
    // At 20 the scatter is 1 to 2.4 %; it falls as the noise, and twice that has room for fewer samples per sigma.
    expect(statistics(ratios).deviation).toBeLessThan(0.012);
  });

  test('has the plates at half height within 1 % in the mean', () => {
    // 8 ln 2 (t/W)², t the apex at 5 min.
    const plates = 8 * Math.LN2 * (5 / (exact.halfHeight * sigma)) ** 2;
    expect(Math.abs(statistics(peaks.map((p) => p.plates.halfHeight! / plates)).mean - 1)).toBeLessThan(0.01);
  });

  test('has the tailing and the asymmetry within 1.5 % in the mean', () => {
    expect(Math.abs(statistics(peaks.map((p) => p.tailingFactor!)).mean / 1.228212 - 1)).toBeLessThan(0.015);
    expect(Math.abs(statistics(peaks.map((p) => p.asymmetry!)).mean / 1.36218 - 1)).toBeLessThan(0.015);
  });

  test('has a height within 0.2 % in the mean', () => {
    expect(Math.abs(statistics(peaks.map((p) => p.height / 100)).mean - 1)).toBeLessThan(0.002);
  });

  test('has a signal-to-noise ratio near 100', () => {
    // Twice the height over the range of the baseline; the range of a few hundred values scatters by a tenth.
    const { mean } = statistics(peaks.map((p) => p.signalToNoise!.value));
    expect(mean).toBeGreaterThan(85);
    expect(mean).toBeLessThan(115);
  });
});
