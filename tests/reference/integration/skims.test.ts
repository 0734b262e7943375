import { describe, expect, test } from 'vitest';
import { createTrace, emgFromApex, integrate, planIntegration } from '../../../src/index.js';
import { divideSampled, samplePair } from '../../../src/integration/divide-pair.js';
import { candidate, straight } from '../../support/plans.js';
import { divided, emgPair, gaussianPair, type Pair } from './overlap.js';
import { emgSkims, gaussianSkims, threeWays } from './skims.js';

/**
 * Tolerances, from the local fits that are made against noise: without noise a valley lies within 0.003 sigma of the
 * minimum, and a touching point within 0.003 sigma of the tangent's; the level of the line at the valley is within
 * 2e-5 of the height of the smaller peak plus its tail, which over the few sigma under the rider moves its area by less than a thousandth.
 */
const placeWithin = 0.003;
const areaWithin = 1e-3;

/** Below this the signal comes so near the baseline between two peaks that nothing divides them. */
const separate = 0.02;

function touches({ shape, apexes }: Pair, valley: number): boolean {
  return shape(valley) > separate * Math.min(...apexes.map(shape));
}

describe('a tangent skim under the smaller second of two Gaussians (computed, see SOURCE.md: no published table)', () => {
  test.each(gaussianSkims)(
    'of %d at resolution %d goes from %d to %d sigma and leaves %d',
    (ratio, resolution, valley, end, area) => {
      const pair = gaussianPair(ratio, resolution);
      const [parent, rider] = divided(pair, { divider: 'tangent skim' });
      if (!touches(pair, valley)) {
        expect(rider.startKind).not.toBe('skim');
        return;
      }
      expect([rider.startKind, rider.endKind]).toEqual(['skim', 'skim']);
      expect(Math.abs(rider.start - valley)).toBeLessThan(placeWithin);
      expect(Math.abs(rider.end - end)).toBeLessThan(placeWithin);
      expect(Math.abs(rider.area / 60 / area - 1)).toBeLessThan(areaWithin);
      expect(parent.transfers).toEqual([{ to: rider.id, area: rider.area }]);
      expect(parent.end).toBe(pair.to);
      // The parent keeps what lies under the line, and nothing is lost.
      expect(Math.abs((parent.area + rider.area) / 60 / (1 + ratio) - 1)).toBeLessThan(1e-9);
    },
  );

  test.each(gaussianSkims)(
    'of %d at resolution %d comes out the same when the pair is constructed',
    (ratio, resolution, _, __, area) => {
      const height = 1 / Math.sqrt(2 * Math.PI);
      const curve = (position: number, size: number) =>
        emgFromApex({ position, height: size * height, sigma: 1, tau: 0 });
      const pair = samplePair({ curves: [curve(0, 1), curve(4 * resolution, ratio)], smaller: 1 });
      const [, rider] = divideSampled(pair, 'tangent skim')!;
      expect(Math.abs(rider / area - 1)).toBeLessThan(4 * areaWithin);
    },
  );
});

describe('a tangent skim under the smaller second of two tailing peaks', () => {
  test.each(emgSkims)(
    'tau %d, distance %d, size %d: from %d to %d sigma, area %d',
    (tau, distance, size, valley, end, area) => {
      const pair = emgPair(tau, distance, 1, size);
      const [, rider] = divided(pair, { divider: 'tangent skim' });
      if (!touches(pair, rider.start)) {
        // Divided nowhere, and with the sum of both areas all the same.
        expect(rider.startKind).not.toBe('skim');
        expect(rider.area / 60 / area).toBeGreaterThan(1);
        return;
      }
      if (valley !== undefined) expect(Math.abs(rider.start - valley)).toBeLessThan(placeWithin);
      if (end !== undefined) expect(Math.abs(rider.end - end)).toBeLessThan(placeWithin);
      expect(Math.abs(rider.area / 60 / area - 1)).toBeLessThan(areaWithin);
    },
  );
});

describe('a rider on an exponential tail, three ways (closed form)', () => {
  const time = Float64Array.from({ length: 30_001 }, (_, i) => i / 1000);
  const signal = time.map((t) => 100 * Math.exp(-t / 2) + 5 * Math.exp(-0.5 * ((t - 6) / 0.25) ** 2));
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
  const candidates = [
    candidate(0.001, 1, { from: 0, to: 6, toKind: 'neighbour' }),
    candidate(threeWays.apex, 0.25, { height: 10, from: 1, to: 30, fromKind: 'neighbour' }),
  ];

  test.each(['tangent skim', 'exponential skim'] as const)(
    'with a %s it meets the signal again where it should',
    (divider) => {
      const plan = planIntegration(trace, candidates, straight(0, 30), { divider });
      const rider = integrate(trace, plan).peaks[1]!;
      // A five-hundredth of the rider's sigma; its area to a five-thousandth.
      expect(Math.abs(rider.start - threeWays.valley)).toBeLessThan(0.0005);
      expect(Math.abs(rider.end - threeWays[divider].end)).toBeLessThan(0.0005);
      expect(Math.abs(rider.area / 60 / threeWays[divider].area - 1)).toBeLessThan(2e-4);
      expect(Math.abs(rider.baselineStart - threeWays.level)).toBeLessThan(0.0005);
    },
  );

  test('the exponential takes its rate from the tail, and says so', () => {
    const plan = planIntegration(trace, candidates, straight(0, 30), { divider: 'exponential skim' });
    const text = plan.regions[0]!.peaks[1]!.decisions.find(({ about }) => about === 'start')!.text;
    expect(text).toContain(`falling by ${threeWays.rate.toPrecision(4)} per minute`);
    const skim = plan.baselines.find(({ kind }) => kind === 'exponential skim')!;
    const level = skim.value[0]!;
    skim.time.forEach((t, i) => {
      const exact = level * Math.exp(-threeWays.rate * (t - skim.time[0]!));
      expect(Math.abs(skim.value[i]! / exact - 1)).toBeLessThan(1e-4);
    });
  });
});
