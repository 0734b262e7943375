import { describe, expect, test } from 'vitest';
import { analyse, defineMethod, pinDivision, pinMethod, simulateTrace, type PeakRecipe } from '../../../src/index.js';

const emg = (retentionTime: number, height: number, sigma = 0.06, tau = 0.1): PeakRecipe => ({
  shape: 'emg',
  retentionTime,
  height,
  sigma,
  tau,
});
const runOf = (seed: number, peaks: readonly PeakRecipe[]) =>
  simulateTrace({ duration: 9, interval: 0.2, baseline: { offset: 2 }, noise: { white: 0.02 }, seed, peaks });

describe('the bias of a divider', () => {
  test.each(['drop line', 'valley to valley', 'tangent skim', 'exponential skim', 'policy'] as const)(
    'with %s is about what the area is off',
    (divider) => {
      const { trace, truth } = runOf(3, [emg(4, 400), emg(4.75, 20, 0.06, 0.05)]);
      const { peaks } = analyse(trace, { divider });
      expect(peaks).toHaveLength(2);
      peaks.forEach((peak, i) => {
        const off = peak.area - truth.peaks[i]!.area;
        // The shapes are estimated beside each other; what is left open is a fifth of it, or a hundredth of the smaller area.
        expect(Math.abs(peak.divisionBias! - off)).toBeLessThan(0.2 * Math.abs(off) + 0.01 * truth.peaks[1]!.area);
        expect(peak.areaUncertaintyParts!.division).toBe(Math.abs(peak.divisionBias!));
        const { noise, baseline, division } = peak.areaUncertaintyParts!;
        expect(peak.areaUncertainty! / Math.sqrt(noise ** 2 + baseline ** 2 + division! ** 2)).toBeCloseTo(1, 9);
      });
    },
  );

  test('is not there for peaks that touch nothing, nor for those a fit divides', () => {
    const { trace } = runOf(3, [emg(4, 400), emg(4.75, 20), emg(7, 50)]);
    for (const peak of analyse(trace).peaks) expect(peak).not.toHaveProperty('divisionBias');
    const lone = analyse(trace, { divider: 'drop line' }).peaks.at(-1)!;
    expect(lone.retentionTime).toBeCloseTo(7, 1);
    expect(lone).not.toHaveProperty('divisionBias');
  });

  test('is there under fits where a rule divides', () => {
    const { trace } = runOf(3, [emg(4, 400), emg(4.75, 20)]);
    const { peaks } = analyse(trace, { rules: [{ kind: 'divide by', from: 4, to: 5, divider: 'tangent skim' }] });
    expect(peaks.map(({ startKind }) => startKind)).toEqual(['baseline', 'skim']);
    expect(peaks[1]!.divisionBias).toBeLessThan(0);
  });
});

describe('a peak that no divider gets right', () => {
  const { trace } = runOf(5, [emg(4, 400), emg(4.52, 40)]);
  const warned = (mostDivisionBias?: number) =>
    analyse(trace, {
      divider: 'policy',
      ...(mostDivisionBias !== undefined && { mostDivisionBias }),
    }).peaks[1]!.warnings.find(({ code }) => code === 'peak-not-quantifiable-by-division');

  test('says so, with the bias of the best, the resolution it has and the one that would do', () => {
    const { message } = warned()!;
    expect(message).toContain('is not quantifiable by division beside the peak at 4.0');
    const [, bias, resolution, enough] =
      /off by ([\d.]+) %; the resolution is ([\d.]+), a resolution of ([\d.]+) would do/.exec(message)!.map(Number);
    expect(bias).toBeGreaterThan(5);
    expect(enough).toBeGreaterThan(resolution!);
    // Moved apart so far, the same pair is divided within the bias that is allowed.
    const apart = runOf(5, [emg(4, 400), emg(4 + (0.52 * enough! * 1.02) / resolution!, 40)]);
    const { peaks } = analyse(apart.trace, { divider: 'exponential skim' });
    expect(Math.abs(peaks[1]!.area / apart.truth.peaks[1]!.area - 1)).toBeLessThan(0.065);
    expect(peaks[1]!.warnings.map(({ code }) => code)).not.toContain('peak-not-quantifiable-by-division');
  });

  test('is a matter of what the method allows', () => {
    expect(warned(0.5)).toBeUndefined();
    expect(() => defineMethod({ mostDivisionBias: 0 })).toThrow('mostDivisionBias');
  });
});

describe('a set', () => {
  const seeds = [1, 2, 3];
  /** Asymmetries of 1.66 and 1.72, with a policy that skims from 1.69 on. */
  const runs = [0.094, 0.1, 0.1].map(
    (tau, i) => runOf(seeds[i]!, [emg(4, 400, 0.065, tau), emg(4.72, 30, 0.06, 0.03)]).trace,
  );
  const policy = [{ use: 'exponential skim', when: { smaller: 'after', asymmetry: { least: 1.69 } } }] as const;

  test('gets one divider for each valley, and the runs that had another are listed', () => {
    const analyses = runs.map((trace) => analyse(trace, { divider: 'policy', divisionPolicy: policy }));
    const own = analyses.map(({ peaks }) => peaks[1]!.startKind);
    expect(own).toEqual(['drop line', 'skim', 'skim']);
    const { rules, departures } = pinDivision(analyses);
    expect(rules.map(({ divider }) => divider)).toEqual(['exponential skim']);
    expect(departures).toHaveLength(1);
    expect(departures[0]).toMatchObject({ run: 0, what: 'divider', here: 'drop line', set: 'exponential skim' });
    const pinned = pinMethod(analyses);
    const again = runs.map((trace) => analyse(trace, pinned));
    expect(again.map(({ peaks }) => peaks[1]!.startKind)).toEqual(['skim', 'skim', 'skim']);
    // Pinned once more it stays as it is.
    expect(pinMethod(again)).toEqual(pinned);
    expect(pinDivision(again).departures).toEqual([]);
  });

  test('of runs with unequal numbers of peaks in a group lists them', () => {
    const more = runOf(4, [emg(4, 400, 0.065), emg(4.72, 30, 0.06, 0.03), emg(5.1, 30, 0.06, 0.03)]).trace;
    const analyses = [...runs.slice(1), more].map((trace) => analyse(trace));
    const { rules, departures } = pinDivision(analyses);
    expect(rules).toEqual([]);
    expect(departures).toEqual([{ run: 2, at: departures[0]!.at, what: 'number of peaks', here: '3', set: '2' }]);
    expect(pinMethod(analyses).rules).toEqual([]);
  });
});
