import { describe, expect, test } from 'vitest';
import { analyse, simulateTrace, type Method } from '../../src/index.js';
import { repeatableNumbers } from '../support/traces.js';

/** Pairs of tailing peaks of nearly one shape: sizes 1 : 1 to 1 : 100, any tailing up to twice sigma, from hardly to well parted. */
function pairs(count: number) {
  const random = repeatableNumbers(20);
  return Array.from({ length: count }, (_, i) => {
    const tau = 0.12 * random();
    const sigma = 0.05 + 0.03 * random();
    const height = 300 * 10 ** (-2 * random());
    const distance = (3.5 + 4 * random()) * sigma + 1.5 * tau;
    const after = random() < 0.7;
    const peak = (retentionTime: number, h: number, s: number) =>
      ({ shape: 'emg', retentionTime, height: h, sigma: s, tau }) as const;
    const run = simulateTrace({
      duration: 9,
      interval: 0.2,
      baseline: { offset: 2 },
      noise: { white: 0.02 },
      seed: i + 1,
      peaks: [peak(4, after ? 300 : height, sigma), peak(4 + distance, after ? height : 300, 1.03 * sigma)],
    });
    return { ...run, smaller: after ? 1 : 0 };
  });
}

const runs = pairs(60);

/** Error of every divided peak over its stated uncertainty, and the relative error of the smaller of each pair. */
function errors(divider: Method['divider']) {
  const scores: number[] = [];
  const small: number[] = [];
  const flagged: boolean[] = [];
  for (const { trace, truth, smaller } of runs) {
    const { peaks } = analyse(trace, { divider });
    if (peaks.length !== 2) continue;
    peaks.forEach((peak, i) => {
      if (peak.divisionBias === undefined) return;
      const off = peak.area - truth.peaks[i]!.area;
      scores.push(off / peak.areaUncertainty!);
      if (i !== smaller) return;
      small.push(Math.abs(off / truth.peaks[i]!.area));
      flagged.push(peak.warnings.some(({ code }) => code === 'peak-not-quantifiable-by-division'));
    });
  }
  return { scores, small, flagged };
}

describe.each(['drop line', 'valley to valley', 'tangent skim', 'exponential skim', 'policy'] as const)(
  'an area divided by %s',
  (divider) => {
    const { scores } = errors(divider);

    test('is off by as much as its uncertainty says, in the root of the mean square', () => {
      expect(scores.length).toBeGreaterThan(60);
      const rms = Math.sqrt(scores.reduce((sum, z) => sum + z * z, 0) / scores.length);
      expect(rms).toBeGreaterThan(0.9);
      expect(rms).toBeLessThan(1.1);
    });

    test('lies within twice its uncertainty of the truth in nearly all cases', () => {
      expect(scores.filter((z) => Math.abs(z) < 2).length / scores.length).toBeGreaterThan(0.95);
    });
  },
);

describe('the standard policy', () => {
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
  const policy = errors('policy');

  test('errs less for the smaller peak than any one divider', () => {
    for (const divider of ['drop line', 'valley to valley', 'tangent skim', 'exponential skim'] as const) {
      expect(mean(policy.small)).toBeLessThan(mean(errors(divider).small));
    }
  });

  test('leaves no small peak more than a tenth off without saying that division cannot quantify it', () => {
    expect(policy.flagged.some((flag) => flag)).toBe(true);
    policy.small.forEach((off, i) => {
      if (off > 0.1) expect(policy.flagged[i]).toBe(true);
    });
  });
});
