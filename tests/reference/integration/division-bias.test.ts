import { describe, expect, test } from 'vitest';
import { divisionBias, emgFromApex, planIntegration, type Divider } from '../../../src/index.js';
import { divideSampled, samplePair } from '../../../src/integration/divide-pair.js';
import { candidate, straight } from '../../support/plans.js';
import { traceAt } from '../../support/traces.js';
import { emgPair, gaussianPair, type Pair } from './overlap.js';
import { emgPairs, gaussianPairs, valleyToValley } from './pairs.js';

/** [%] Biases of both peaks as they are estimated from the record alone. */
function estimated({ shape, apexes, heights, from, to }: Pair, truth: readonly [number, number], divider: Divider) {
  const count = Math.round((to - from) * 40) + 1;
  const time = Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
  const trace = traceAt(time, (i) => shape(time[i]!));
  const candidates = [
    candidate(apexes[0], 1, { height: heights[0], from, to: apexes[1], toKind: 'neighbour' }),
    candidate(apexes[1], 1, { height: heights[1], from: apexes[0], to, fromKind: 'neighbour' }),
  ];
  const plan = planIntegration(trace, candidates, straight(from, to), { divider });
  return divisionBias(trace, plan).map(({ bias }, i) => (100 * bias) / 60 / truth[i]!);
}

describe('the bias of a divider is estimated from heights, distance, widths and tailing (computed, see SOURCE.md)', () => {
  // Within a tenth of the bias, or 0.2 % of the peak: two shapes that hide each other's flanks leave that much open.
  const near = (received: number, expected: number): void => {
    expect(Math.abs(received - expected)).toBeLessThan(0.2 + 0.1 * Math.abs(expected));
  };

  test.each(gaussianPairs.filter(([ratio, rs]) => ratio < 1 && rs >= 1 && rs < 1.5))(
    'Gaussians of 1 and %d at resolution %d, drop line: %d sigma, %d and %d %%',
    (ratio, resolution, _, first, second) => {
      const [a, b] = estimated(gaussianPair(ratio, resolution), [1, ratio], 'drop line');
      near(a!, first);
      near(b!, second);
    },
  );

  test.each(emgPairs)(
    'tau %d, distance %d, %d and %d, drop line: %d sigma, %d and %d %%',
    (tau, distance, one, two, _, first, second) => {
      const pair = emgPair(tau, distance, one, two);
      const [a, b] = estimated(pair, [one, two], 'drop line');
      // Nothing is divided where the signal is back at a fiftieth of the lower peak.
      if (a === undefined) {
        expect(Math.abs(first)).toBeLessThan(3);
        return;
      }
      near(a, first);
      near(b!, second);
    },
  );

  test('a small second peak gains from a drop line when the first tails, and loses to every other divider', () => {
    const of = (divider: Divider) => estimated(emgPair(2, 8, 1, 0.1), [1, 0.1], divider)[1]!;
    expect(of('drop line')).toBeGreaterThan(20);
    expect(of('tangent skim')).toBeLessThan(-20);
    expect(of('exponential skim')).toBeLessThan(-5);
    expect(of('valley to valley')).toBeLessThan(-100);
  });
});

describe('a constructed pair, divided by the same code', () => {
  test.each(gaussianPairs)(
    '1 and %d at resolution %d, drop line at %d sigma: %d and %d %%',
    (ratio, resolution, valley, first, second) => {
      const curve = (position: number, height: number) => emgFromApex({ position, height, sigma: 1, tau: 0 });
      const pair = samplePair({ curves: [curve(0, 1), curve(4 * resolution, ratio)], smaller: 1 });
      const [a, b] = divideSampled(pair, 'drop line')!;
      expect(Math.abs(pair.valley! - valley)).toBeLessThan(0.004);
      expect(Math.abs(100 * (a / pair.areas[0] - 1) - first)).toBeLessThan(0.04);
      expect(Math.abs(100 * (b / pair.areas[1] - 1) - second)).toBeLessThan(0.04);
    },
  );

  test.each(valleyToValley)(
    '1 and %d at resolution %d, valley to valley: %d and %d %%',
    (ratio, resolution, first, second) => {
      const curve = (position: number, height: number) => emgFromApex({ position, height, sigma: 1, tau: 0 });
      const pair = samplePair({ curves: [curve(0, 1), curve(4 * resolution, ratio)], smaller: 1 });
      const [a, b] = divideSampled(pair, 'valley to valley', pair.valley, -5, 4 * resolution + 5)!;
      expect(Math.abs(100 * (a / pair.areas[0] - 1) - first)).toBeLessThan(0.05);
      expect(Math.abs(100 * (b / pair.areas[1] - 1) - second)).toBeLessThan(0.1);
    },
  );
});
