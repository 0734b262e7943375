import { ticks } from 'd3-array';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { axisTicks } from '../../../src/report/axis-ticks.js';
import { plainNumber, powerOfTen, significantNumber } from '../../../src/report/number-text.js';

describe('axisTicks', () => {
  test('marks stand at round values with just the decimals they need', () => {
    expect(axisTicks(0, 12.37, 6)).toEqual({
      values: [0, 2, 4, 6, 8, 10, 12],
      texts: ['0', '2', '4', '6', '8', '10', '12'],
      exponent: 0,
    });
    expect(axisTicks(-0.4, 0.5, 4).texts).toEqual(['−0.4', '−0.2', '0.0', '0.2', '0.4']);
    expect(axisTicks(5.601, 5.604, 3).texts).toEqual(['5.601', '5.602', '5.603', '5.604']);
  });

  test('are those of a general-purpose library', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -9999, max: 9999 }),
        fc.integer({ min: 1, max: 9999 }),
        fc.integer({ min: -6, max: 6 }),
        fc.integer({ min: 2, max: 12 }),
        (start, length, power, count) => {
          const from = start * 10 ** power;
          const to = (start + length) * 10 ** power;
          const expected = ticks(from, to, count);
          const { values } = axisTicks(from, to, count);
          // A mark within rounding of an end may be on either side of it.
          const inner = (v: number): boolean => v > from + 1e-6 * (to - from) && v < to - 1e-6 * (to - from);
          const [ours, theirs] = [values.filter(inner), expected.filter(inner)];
          expect(ours.length).toBe(theirs.length);
          ours.forEach((v, i) => expect(v).toBeCloseTo(theirs[i]!, 10 - power));
        },
      ),
    );
  });

  test('large and tiny numbers give their power of ten to the title', () => {
    expect(axisTicks(0, 2.5e6, 5)).toMatchObject({ exponent: 6, texts: ['0.0', '0.5', '1.0', '1.5', '2.0', '2.5'] });
    expect(axisTicks(0, 4e-4, 4)).toMatchObject({ exponent: -6, texts: ['0', '100', '200', '300', '400'] });
  });

  test.each([
    ['a count that would run out of memory', 0, 1, 1e9],
    ['NaN', NaN, 1, 5],
    ['infinite ends', 0, Infinity, 5],
    ['equal ends', 3, 3, 5],
    ['a denormal span', 0, 5e-324, 5],
    ['a span lost in its own numbers', 1e9, 1e9 + 1e-7, 5],
    ['ends beyond what can be subtracted', -1.7e308, 1.7e308, 5],
    ['a negative count', 0, 1, -4],
  ])('%s gives no more than some 20 finite marks, at once', (_, from, to, count) => {
    const { values, texts } = axisTicks(from, to, count);
    expect(values.length).toBeLessThan(30);
    expect(values.every(Number.isFinite)).toBe(true);
    expect(texts).toHaveLength(values.length);
  });

  test('neighbouring marks never have the same text', () => {
    for (const [from, to] of [
      [0, 1e-7],
      [1000, 1000.01],
      [-3e5, 7e5],
      [0.1, 0.10001],
    ] as const) {
      const { texts } = axisTicks(from, to, 8);
      expect(texts.length).toBeGreaterThan(1);
      expect(new Set(texts).size).toBe(texts.length);
    }
  });
});

test('numbers are grouped in thousands and signed with a minus', () => {
  expect(plainNumber(-1234567.891, 1)).toBe('−1\u2009234\u2009567.9');
  expect(plainNumber(-0.0001, 2)).toBe('0.00');
  expect(significantNumber(0.051234, 3)).toBe('0.0512');
  expect(significantNumber(12345.678, 4)).toBe('12\u2009346');
  expect(powerOfTen(-12)).toBe('10⁻¹²');
});
