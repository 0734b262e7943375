import { describe, expect, test } from 'vitest';
import { divided, emgPair, gaussianPair, percentOff } from './overlap.js';
import { emgPairs, emgPairsWithoutValley, gaussianPairs, valleyToValley } from './pairs.js';

/**
 * Tolerances: the valley is that of a local fit, made against noise; without noise it lies within 0.003 sigma (a
 * twentieth of a sample at the usual 20 per sigma) of the minimum. A drop line off by that moves as much times the
 * height of the valley, at most 0.03 % of the smaller peak where the valley is nearly as high as it.
 */
const valleyWithin = 0.003;
const percentWithin = 0.03;

describe('a drop line between two Gaussians (closed form, see SOURCE.md: no published table)', () => {
  test.each(gaussianPairs)(
    'with areas 1 and %d at resolution %d stands at %d sigma, and moves %d and %d %%',
    (ratio, resolution, valley, first, second) => {
      const [a, b] = divided(gaussianPair(ratio, resolution));
      expect(Math.abs(a.end - valley)).toBeLessThan(valleyWithin);
      expect(b.start).toBe(a.end);
      expect(Math.abs(percentOff(a.area, 1) - first)).toBeLessThan(percentWithin);
      expect(Math.abs(percentOff(b.area, ratio) - second)).toBeLessThan(percentWithin);
      // Nothing gets lost between them.
      expect(percentOff(a.area + b.area, 1 + ratio)).toBeCloseTo(0, 9);
    },
  );

  test('the smaller of two Gaussians always loses', () => {
    for (const [ratio, resolution] of gaussianPairs) {
      if (ratio === 1) continue;
      const [a, b] = divided(gaussianPair(ratio, resolution));
      expect(percentOff(a.area, 1)).toBeGreaterThan(0);
      expect(percentOff(b.area, ratio)).toBeLessThan(0);
    }
  });

  test('a valley below a fiftieth of the lower peak makes them separate regions, a higher one a drop line', () => {
    // Peak over valley is 45 for equal Gaussians at resolution 1.5, and 1490 at 2.
    expect(divided(gaussianPair(1, 1.5)).map((p) => [p.startKind, p.endKind])).toEqual([
      ['cut off', 'drop line'],
      ['drop line', 'cut off'],
    ]);
    expect(divided(gaussianPair(1, 2))[0].endKind).toBe('baseline');
  });
});

describe('a drop line between two tailing peaks (closed form, see SOURCE.md: no published table)', () => {
  test.each(emgPairs)(
    'with tau %d sigma, %d sigma apart, areas %d and %d, stands at %d sigma, and moves %d and %d %%',
    (tau, distance, areaFirst, areaSecond, valley, first, second) => {
      const [a, b] = divided(emgPair(tau, distance, areaFirst, areaSecond));
      expect(Math.abs(a.end - valley)).toBeLessThan(valleyWithin);
      expect(Math.abs(percentOff(a.area, areaFirst) - first)).toBeLessThan(percentWithin);
      expect(Math.abs(percentOff(b.area, areaSecond) - second)).toBeLessThan(percentWithin);
    },
  );

  test.each(emgPairsWithoutValley)(
    'is none where there is no valley: tau %d sigma, %d sigma apart, areas %d and %d',
    (tau, distance, areaFirst, areaSecond) => {
      const { shape, apexes } = emgPair(tau, distance, areaFirst, areaSecond);
      // The reference itself: the sum falls all the way from the first apex to the second.
      for (let t = apexes[0] + 0.01; t < apexes[1]; t += 0.01) expect(shape(t)).toBeLessThan(shape(t - 0.01));
    },
  );
});

describe('baselines from valley to valley (closed form, see SOURCE.md: no published table)', () => {
  test.each(valleyToValley)(
    'under Gaussians with areas 1 and %d at resolution %d take %d and %d %%',
    (ratio, resolution, first, second) => {
      // The group starts and ends five sigma out; there the run's baseline stands in for the signal, 4e-6 of the height.
      const [a, b] = divided(gaussianPair(ratio, resolution, 5), { divider: 'valley to valley' });
      expect(a.endKind).toBe('valley');
      expect(Math.abs(percentOff(a.area, 1) - first)).toBeLessThan(0.006);
      expect(Math.abs(percentOff(b.area, ratio) - second)).toBeLessThan(0.02);
    },
  );
});
