import { describe, expect, test } from 'vitest';
import { analyse, createTrace, simulateTrace, type SamplingRecipe, type Trace } from '../../../src/index.js';
import { findAxisFaults } from '../../../src/signal/clock-steps.js';

const white = 0.05;
const simulate = (seed = 1, sampling: SamplingRecipe = {}): Trace =>
  simulateTrace({
    duration: 10,
    interval: 0.2,
    baseline: { offset: 2, drift: 3 },
    noise: { white },
    peaks: [
      { shape: 'gaussian', retentionTime: 4, height: 50, sigma: 0.05 },
      { shape: 'gaussian', retentionTime: 6, height: 1500, sigma: 0.07 },
    ],
    sampling,
    seed,
  }).trace;
const rebuilt = (time: ArrayLike<number>, signal: ArrayLike<number>): Trace =>
  createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU', injectedAt: 0 });
/** The record with its clock put on by so many seconds at a time; the signal runs on. */
const putOn = ({ time, signal }: Trace, at: number, seconds: number): Trace =>
  rebuilt(
    time.map((t) => (t > at ? t + seconds / 60 : t)),
    signal,
  );
/** The record without what was read between two times: there time has passed. */
const paused = ({ time, signal }: Trace, from: number, to: number): Trace => {
  const kept = Array.from(time.keys()).filter((i) => time[i]! < from || time[i]! > to);
  return rebuilt(
    kept.map((i) => time[i]!),
    kept.map((i) => signal[i]!),
  );
};
const steps = (trace: Trace) => findAxisFaults(trace, white).clockSteps;

describe('A step of the clock', () => {
  test.each([
    [5.95, 0.14],
    [5.95, -0.12],
    [5.95, 0.2],
    [5.95, 0.6],
    [5.95, 5],
    [6.1, 30],
  ])('at %d min by %d s on the flank of a peak is found by the signal that runs on', (at, seconds) => {
    for (let seed = 1; seed <= 10; seed++) {
      const [step, ...others] = steps(putOn(simulate(seed), at, seconds));
      expect(others).toStrictEqual([]);
      expect(step!.start).toBeCloseTo(at, 2);
      expect(step!.end - step!.start).toBeCloseTo((seconds + 0.2) / 60, 6);
      expect(step!.usual).toBeCloseTo(0.2 / 60, 6);
      expect(step!.shown).toBe(true);
    }
  });

  test('on a flat signal is found when it is no multiple of the interval, and says that the signal does not tell', () => {
    const [step] = steps(putOn(simulate(), 8, 0.13));
    expect(step).toMatchObject({ shown: false });
    expect(steps(putOn(simulate(), 8, 0.2))).toStrictEqual([]);
    expect(steps(putOn(simulate(), 8, 30))).toStrictEqual([]);
  });

  test('is not found where time has passed', () => {
    for (let seed = 1; seed <= 10; seed++) {
      for (const [from, to] of [
        [5.95, 5.952],
        [5.9, 5.96],
        [3.9, 4.02],
        [7.5, 9],
      ] as const) {
        expect(steps(paused(simulate(seed), from, to))).toStrictEqual([]);
      }
    }
  });

  test('is not found in jitter, at the seam of two rates, or in times that were printed to few digits', () => {
    expect(steps(simulate(1, { jitter: 0.3 }))).toStrictEqual([]);
    expect(steps(simulate(1, { slower: [{ from: 5.9, to: 6.1, factor: 3 }] }))).toStrictEqual([]);
    const { time, signal } = simulate();
    const printed = rebuilt(
      time.map((t) => Number(t.toFixed(3))),
      signal,
    );
    expect(steps(printed)).toStrictEqual([]);
    expect(steps(simulate())).toStrictEqual([]);
  });

  test('is labelled with kind, place, evidence and what it means; the signal is not corrected', () => {
    const stepped = putOn(simulate(), 5.95, 0.6);
    const { disturbances, trace } = analyse(stepped);
    expect(trace).toBe(stepped);
    expect(disturbances).toHaveLength(1);
    expect(disturbances[0]).toMatchObject({ kind: 'clock step' });
    expect(disturbances[0]!.evidence).toBe(
      'One interval of 0.800 s among intervals of 0.200 s; the signal shows that one usual interval passed.',
    );
    expect(disturbances[0]!.text).toBe(
      'From here on times are 0.600 s too late against those before; nothing was corrected.',
    );
  });

  test('backward, dropped on request, is labelled at its place', () => {
    const { time, signal } = simulate();
    const back = createTrace({
      time: time.map((t) => (t > 3 ? t - 0.021 : t)),
      signal,
      timeUnit: 'min',
      signalUnit: 'mAU',
      backwardTimes: 'drop',
    });
    const label = analyse(back).disturbances.find(({ evidence }) => evidence === 'The clock of the source went back.')!;
    expect(label).toMatchObject({ kind: 'clock step' });
    expect(label.at).toBeCloseTo(3, 2);
  });
});

describe('What the recording did is said for the run', () => {
  const warnings = (trace: Trace) => analyse(trace).warnings;
  const codes = (trace: Trace): string[] => warnings(trace).map(({ code }) => code);

  test('that samples are not even, and that peaks were decided on an even grid', () => {
    const [warning] = warnings(simulate(1, { jitter: 0.3 }));
    expect(warning!.code).toBe('sampling-uneven');
    expect(warning!.message).toContain('areas and heights are taken at the real times');
    expect(codes(simulate())).toStrictEqual([]);
  });

  test('where the sampling rate changes, and from what to what', () => {
    const changes = warnings(simulate(1, { slower: [{ from: 7, to: 9, factor: 3 }] })).filter(
      ({ code }) => code === 'sampling-rate-change',
    );
    expect(changes.map(({ at }) => at!.toFixed(2))).toStrictEqual(['7.00', '9.00']);
    expect(changes[0]!.message).toContain('from 0.200 to 0.600 s');
  });

  test('that the steps of the readings are coarser than their noise, with the step, and not when they are fine', () => {
    const { time, signal } = simulate();
    const rounded = (step: number): Trace =>
      rebuilt(
        time,
        signal.map((y) => step * Math.round(y / step)),
      );
    const warning = warnings(rounded(0.2)).find(({ code }) => code === 'quantisation')!;
    expect(warning.message).toContain('steps of 0.200 mAU');
    expect(codes(rounded(0.01))).toStrictEqual([]);
  });
});
