import { describe, expect, test } from 'vitest';
import { analyse, cropTrace, simulateTrace, type Trace, type TraceRecipe } from '../../src/index.js';
import { withSignal } from '../support/runs.js';
import { statistics } from '../support/statistics.js';

const seeds = Array.from({ length: 30 }, (_, i) => i + 1);

const recipe = (seed: number, more: Partial<TraceRecipe> = {}): TraceRecipe => ({
  duration: 10,
  interval: 0.4,
  baseline: { offset: 2, drift: 10 },
  noise: { white: 0.3 },
  seed,
  peaks: [
    { shape: 'gaussian', retentionTime: 3, height: 100, sigma: 0.05 },
    { shape: 'gaussian', retentionTime: 6, height: 100, sigma: 0.05 },
  ],
  ...more,
});
const run = (seed: number, more: Partial<TraceRecipe> = {}): Trace => simulateTrace(recipe(seed, more)).trace;
/** [mAU s] Area of either peak. */
const area = 60 * 100 * 0.05 * Math.sqrt(2 * Math.PI);

describe('a peak that the record cuts off', () => {
  test('is kept, called cut off, warned about, and has the area inside the record', () => {
    const errors = seeds.map((seed) => {
      const { peaks } = analyse(cropTrace(run(seed), { to: 6.05 }));
      expect(peaks).toHaveLength(2);
      const cut = peaks[1]!;
      expect(cut.endKind).toBe('cut off');
      expect(cut.warnings.map((w) => w.code)).toContain('peak-cut-off');
      // The last sample is at 6 min 2.8 s, 14/15 sigma after the apex: 82.468 % of a Gaussian lie before.
      return cut.area / (0.82468 * area) - 1;
    });
    const { mean, error } = statistics(errors);
    expect(Math.abs(mean)).toBeLessThan(0.0035 + 3 * error);
  });

  test('with its apex outside the record is no peak, and is said to be rejected', () => {
    for (const seed of seeds.slice(0, 10)) {
      const { peaks, rejected } = analyse(cropTrace(run(seed), { to: 5.93 }));
      expect(peaks).toHaveLength(1);
      expect(rejected.map((r) => r.test)).toContain('apex inside the record');
    }
  });
});

describe('a saturated peak', () => {
  test('is one peak with a flat top, named as saturation, at the middle of the flat', () => {
    for (const seed of seeds) {
      const clipped = withSignal(run(seed), (y) => Math.min(y, 60));
      const { peaks, disturbances } = analyse(clipped);
      expect(peaks).toHaveLength(2);
      expect(disturbances.filter((d) => d.kind === 'saturation')).toHaveLength(2);
      for (const [i, time] of [3, 6].entries()) {
        expect(Math.abs(peaks[i]!.retentionTime - time)).toBeLessThan(0.01);
        expect(peaks[i]!.warnings.map((w) => w.code)).toContain('peak-flat-top');
      }
    }
  });
});

describe('a spike', () => {
  test('on a peak is bridged, named, and costs the area nothing', () => {
    for (const seed of seeds) {
      const spiky = withSignal(run(seed), (y, i) => y + (i === 910 ? 400 : 0));
      const { peaks, disturbances } = analyse(spiky);
      expect(peaks).toHaveLength(2);
      expect(disturbances.map((d) => d.kind)).toEqual(['spike']);
      expect(peaks[1]!.warnings.map((w) => w.code)).toContain('peak-bridged');
      expect(Math.abs(peaks[1]!.area / area - 1)).toBeLessThan(0.02);
    }
  });
});

describe('two peaks that touch', () => {
  test.each([
    [1, 1],
    [1, 1.25],
    [0.3, 1.25],
    [0.1, 1.5],
  ])(
    'of heights 100 and %d times that at resolution %d are both found, and lose what a drop line must',
    (share, rs) => {
      const distance = 4 * 0.05 * rs;
      for (const seed of seeds) {
        const { peaks, regions } = analyse(
          run(seed, {
            peaks: [
              { shape: 'gaussian', retentionTime: 5, height: 100, sigma: 0.05 },
              { shape: 'gaussian', retentionTime: 5 + distance, height: 100 * share, sigma: 0.05 },
            ],
          }),
        );
        expect(peaks).toHaveLength(2);
        expect(peaks[0]!.end).toBe(peaks[1]!.start);
        // Together they lose nothing, however they are divided.
        expect(Math.abs(regions.reduce((sum, r) => sum + r.area, 0) / (area * (1 + share)) - 1)).toBeLessThan(0.015);
        expect(Math.abs(peaks[0]!.area / area - 1)).toBeLessThan(0.03);
        expect(Math.abs(peaks[1]!.area / (share * area) - 1)).toBeLessThan(0.13);
      }
    },
  );
});
