import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { quantileInPlace, selectInPlace } from '../../../src/numeric/index.js';

/** Readings with many ties: whole numbers of a small range, or of a large one. */
const readings = fc
  .integer({ min: 0, max: 1 })
  .chain((wide) => fc.array(fc.integer({ min: -3, max: wide ? 1e6 : 3 }), { minLength: 1, maxLength: 200 }));

/** Orders that make careless selection slow or wrong. */
const orders: Readonly<Record<string, (i: number, n: number) => number>> = {
  ascending: (i) => i,
  descending: (i, n) => n - i,
  constant: () => 7,
  'an organ pipe': (i, n) => Math.min(i, n - i),
  alternating: (i) => (i % 2 === 0 ? i : -i),
  sawtooth: (i) => i % 7,
};

describe('selection', () => {
  test('gives what sorting gives, at every rank, whatever the readings', () => {
    fc.assert(
      fc.property(readings, fc.nat(), (values, seed) => {
        const k = seed % values.length;
        const sorted = Float64Array.from(values).sort();
        expect(selectInPlace(Float64Array.from(values), 0, values.length, k)).toBe(sorted[k]);
      }),
    );
  });

  test('works inside a stretch, leaves the rest alone and keeps the readings', () => {
    fc.assert(
      fc.property(readings, fc.nat(), fc.nat(), fc.nat(), (values, a, b, c) => {
        const from = a % values.length;
        const to = from + 1 + (b % (values.length - from));
        const k = c % (to - from);
        const work = Float64Array.from(values);
        const expected = Float64Array.from(values.slice(from, to)).sort();
        expect(selectInPlace(work, from, to, k)).toBe(expected[k]);
        expect(Array.from(work.subarray(0, from))).toEqual(values.slice(0, from));
        expect(Array.from(work.subarray(to))).toEqual(values.slice(to));
        expect(work.slice(from, to).sort()).toEqual(expected);
      }),
    );
  });

  test.each(Object.entries(orders))('of %s numbers is right, and no slower than reading them', (_, order) => {
    const n = 200_000;
    const values = Float64Array.from({ length: n }, (__, i) => order(i, n));
    const sorted = values.slice().sort();
    // Quadratic would be 4e10 comparisons: the time limit of the test runner is the check.
    for (const k of [0, 1, n >> 1, n - 2, n - 1]) expect(selectInPlace(values.slice(), 0, n, k)).toBe(sorted[k]);
  });

  test('a quantile is the reading at that rank, the ends included', () => {
    const values = [5, 1, 4, 2, 3, 0];
    const quantile = (fraction: number): number => quantileInPlace(Float64Array.from(values), 6, fraction);
    expect([0, 0.16, 0.17, 0.5, 0.99, 1, -1, 2].map(quantile)).toEqual([0, 0, 1, 3, 5, 5, 0, 5]);
  });

  test('a quantile looks at the first readings only, as many as it is told', () => {
    expect(quantileInPlace(Float64Array.of(3, 1, 2, -9, -9), 3, 0.5)).toBe(2);
  });
});
