import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  fitCalibration,
  isPeakwrightError,
  predictAmount,
  type Calibration,
  type Prediction,
} from '../../../src/index.js';

/** A reading a detector could give: to a thousandth. */
const response = fc.integer({ min: -1e6, max: 1e7 }).map((n) => n / 1e3);
const amount = fc.integer({ min: 0, max: 1e6 }).map((n) => n / 1e3);
const pairs = fc.array(fc.record({ amount, response }), { minLength: 3, maxLength: 12 });
const units = { amountUnit: 'ng', responseUnit: 'mAU s' };

/** Nothing, when the points are rightly refused. */
function fitOrNothing(points: readonly { amount: number; response: number }[]): Calibration | undefined {
  try {
    return fitCalibration(points, units);
  } catch (error) {
    if (isPeakwrightError(error) && error.code.startsWith('calibration-')) return undefined;
    throw error;
  }
}

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

describe('for any points', () => {
  test('every number of a line and of an amount read from it is finite', () => {
    fc.assert(
      fc.property(pairs, fc.array(response, { minLength: 1, maxLength: 4 }), (points, responses) => {
        const line = fitOrNothing(points);
        if (line === undefined) return;
        expect(numbersIn(line).every(Number.isFinite)).toBe(true);
        const read = predictAmount(line, responses, { volume: 10, preparation: { purity: 0.5 } });
        expect(numbersIn(read).every(Number.isFinite)).toBe(true);
      }),
    );
  });

  test('the residuals sum to 0, alone and times the amount', () => {
    fc.assert(
      fc.property(pairs, (points) => {
        const line = fitOrNothing(points);
        if (line === undefined) return;
        const size = line.points.reduce((sum, each) => sum + Math.abs(each.response), 1);
        const sum = line.points.reduce((total, each) => total + each.residual, 0);
        const moment = line.points.reduce((total, each) => total + each.residual * (each.amount - line.meanAmount), 0);
        expect(Math.abs(sum) / size).toBeLessThan(1e-11);
        expect(Math.abs(moment) / size / line.range[1]).toBeLessThan(1e-11);
      }),
    );
  });

  test('the order of the points does not matter', () => {
    fc.assert(
      fc.property(pairs, (points) => {
        const line = fitOrNothing(points);
        if (line === undefined) return;
        const turned = fitCalibration([...points].reverse(), units);
        const size = Math.abs(line.slope.value) + line.slope.standardUncertainty;
        expect(Math.abs(turned.slope.value - line.slope.value) / size).toBeLessThan(1e-10);
      }),
    );
  });

  test('an intercept read as a background or the limits of the line meet: a response on the line comes back as its amount', () => {
    fc.assert(
      fc.property(pairs, (points) => {
        const line = fitOrNothing(points);
        if (line === undefined || Math.abs(line.slope.value) < 1e-3) return;
        const read = predictAmount(line, line.points[0]!.fitted);
        if (read.outcome === 'not determinable') throw new Error(read.reason);
        const scale = line.range[1] + Math.abs(line.intercept.value / line.slope.value);
        expect(Math.abs(read.result.value - line.points[0]!.amount) / scale).toBeLessThan(1e-10);
      }),
    );
  });
});

/*
 * What an interval is for: in 95 of 100 repetitions of the whole experiment it
 * holds the truth. 1000 repetitions each have a binomial standard deviation of
 * 0.7 %; the random numbers are fixed.
 */
describe('in 1000 simulated experiments', () => {
  // mulberry32, a public-domain generator of 32 bits; normal values by Box and Muller
  let state = 12345;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    const a = Math.imul(state ^ (state >>> 15), 1 | state);
    const b = (a + Math.imul(a ^ (a >>> 7), 61 | a)) ^ a;
    return (((b ^ (b >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const experiments = 1000;

  function share(run: () => Prediction, truth: number): number {
    let held = 0;
    for (let i = 0; i < experiments; i++) {
      const read = run();
      if (read.outcome === 'not determinable') throw new Error(read.reason);
      const { interval } = read.concentration!;
      if (interval !== undefined && interval.from <= truth && truth <= interval.to) held += 1;
    }
    return held / experiments;
  }

  test.each([
    [5, 1, 12],
    [5, 3, 30],
    [8, 2, 20],
  ])('with %d volumes and a mean of %d, the limits of Fieller hold the truth in 95 %%', (levels, m, truth) => {
    const volumes = Array.from({ length: levels }, (_, i) => 2 * (i + 1));
    const run = (intercept: 'background' | 'injected volume') => (): Prediction => {
      const shift = intercept === 'background' ? { added: 0, level: 6 } : { added: 0.3, level: 0 };
      const signal = (concentration: number, volume: number): number =>
        0.8 * concentration * (volume + shift.added) + shift.level + 2 * normal();
      const line = fitCalibration(
        volumes.map((volume) => ({ concentration: 25, volume, response: signal(25, volume) })),
        { concentrationUnit: 'mg/L', responseUnit: 'mAU s' },
      );
      const responses = Array.from({ length: m }, () => signal(truth, 6));
      return predictAmount(line, responses, { volume: 6, intercept });
    };
    for (const meaning of ['background', 'injected volume'] as const) {
      const held = share(run(meaning), truth);
      expect(held).toBeGreaterThan(0.93);
      expect(held).toBeLessThan(0.97);
    }
  });
});
