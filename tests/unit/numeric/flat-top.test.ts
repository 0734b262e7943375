import { describe, expect, test } from 'vitest';
import { findFlatTop, type FlatTop } from '../../../src/numeric/index.js';
import { repeatableNormals } from '../../support/traces.js';

/** The flat top of readings one minute apart. */
const flatTop = (
  signal: (i: number) => number,
  start: number,
  end: number,
  sign: 1 | -1,
  sigma: number,
): FlatTop | undefined => {
  const time = Float64Array.from({ length: 201 }, (_, i) => i);
  return findFlatTop(time, time.map(signal), start, end, sign, sigma);
};

const peak = (i: number, height: number): number => height * Math.exp(-0.5 * ((i - 100) / 12) ** 2);

describe('a flat top', () => {
  test('of a clipped peak is found with its level and its readings, in either direction', () => {
    for (const sign of [1, -1] as const) {
      const clip = (i: number): number => sign * Math.min(600, peak(i, 1000));
      const clipped = Array.from({ length: 201 }, (_, i) => i).filter((i) => peak(i, 1000) >= 600);
      expect(flatTop(clip, 50, 150, sign, 12)).toEqual({
        from: clipped[0],
        to: clipped.at(-1),
        level: sign * 600,
        points: clipped.length,
      });
    }
  });

  test('is found under the noise of the readings as well', () => {
    const normal = repeatableNormals(2);
    const found = flatTop((i) => Math.min(600, peak(i, 1000)) + 0.4 * normal(), 50, 150, 1, 12);
    expect(found?.from).toBeCloseTo(88, -0.5);
    expect(found?.to).toBeCloseTo(112, -0.5);
  });

  test('is not what a rounded top, a quantised one, or a noisy one is', () => {
    const normal = repeatableNormals(1);
    expect(flatTop((i) => peak(i, 1000), 50, 150, 1, 12)).toBeUndefined();
    for (const steps of [1000, 20, 10, 6]) {
      expect(flatTop((i) => Math.round(peak(i, steps)), 50, 150, 1, 12)).toBeUndefined();
    }
    expect(flatTop((i) => peak(i, 1000) + normal(), 50, 150, 1, 12)).toBeUndefined();
  });

  test('needs room on both sides and more than a few readings', () => {
    const clip = (i: number): number => Math.min(600, peak(i, 1000));
    expect(flatTop(clip, 98, 102, 1, 12)).toBeUndefined();
    expect(flatTop(clip, 95, 150, 1, 12)).toBeUndefined();
    expect(flatTop(() => 3, 50, 150, 1, 12)).toBeUndefined();
  });
});
