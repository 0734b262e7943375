import { describe, expect, test } from 'vitest';
import { analyse, findPeaks } from '../../../src/index.js';
import { vanillaRun } from '../../support/runs.js';

describe('a peak that is not taken because more signal-to-noise is asked for', () => {
  // The peak at 9 min is 3 high in noise of 0.05: 2H/h with h of six standard deviations is 20.
  test('is rejected as what it is: its height, and a ratio near the one it would have as a peak', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const place = findPeaks(vanillaRun(seed), { leastSignalToNoise: 50 }).rejected.filter(
        (r) => Math.abs(r.at - 9) < 0.1 && r.height > 0,
      );
      expect(place.map((r) => Math.round(r.height))).toEqual([3]);
      expect(place[0]!.value).toBeGreaterThan(10);
      expect(place[0]!.value).toBeLessThan(50);
    }
  });

  test('leaves the areas of the others as they were: what is asked of one does not move the baseline of all', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const all = analyse(vanillaRun(seed)).peaks;
      const some = analyse(vanillaRun(seed), { leastSignalToNoise: 50 }).peaks;
      expect(some).toHaveLength(4);
      some.forEach((p, i) => {
        const allowed = Math.max(0.0005 * all[i]!.area, 0.05 * all[i]!.areaUncertainty!);
        expect(Math.abs(p.area - all[i]!.area)).toBeLessThan(allowed);
      });
    }
  });
});

test('no place is rejected twice', () => {
  for (const seed of [1, 2, 3, 4, 5]) {
    const { rejected } = findPeaks(vanillaRun(seed));
    expect(new Set(rejected.map((r) => `${r.at} ${r.test}`)).size).toBe(rejected.length);
  }
});
