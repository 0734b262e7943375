import { describe, expect, test } from 'vitest';
import { exp, log } from '../../../src/numeric/index.js';

/** Distance to the next number away from zero. */
function ulp(x: number): number {
  const bits = new DataView(new ArrayBuffer(8));
  bits.setFloat64(0, Math.abs(x));
  bits.setBigInt64(0, bits.getBigInt64(0) + 1n);
  return bits.getFloat64(0) - Math.abs(x);
}

/** 1e5 arguments spread over a range without randomness: multiples of the golden section. */
function spread(from: number, to: number): number[] {
  return Array.from({ length: 100_000 }, (_, i) => from + (to - from) * ((i * 0.6180339887498949) % 1));
}

describe('exp and log', () => {
  test.each([
    [-1, 1],
    [-40, 40],
    [-745, 709],
  ])('exp differs from the engine by at most one unit in the last place between %d and %d', (from, to) => {
    const worst = Math.max(...spread(from, to).map((x) => Math.abs(exp(x) - Math.exp(x)) / ulp(Math.exp(x))));
    expect(worst).toBeLessThanOrEqual(1);
  });

  test.each([
    [0.5, 2],
    [1e-300, 1e-290],
    [1e-9, 1e9],
    [0.999, 1.001],
  ])('log differs from the engine by at most one unit in the last place between %d and %d', (from, to) => {
    const worst = Math.max(...spread(from, to).map((x) => Math.abs(log(x) - Math.log(x)) / ulp(Math.log(x))));
    expect(worst).toBeLessThanOrEqual(1);
  });

  test('the ends of the range are those of the numbers', () => {
    expect(exp(0)).toBe(1);
    expect([exp(-746), exp(710), exp(-Infinity), exp(Infinity), exp(NaN)]).toEqual([0, Infinity, 0, Infinity, NaN]);
    expect(exp(-745)).toBe(5e-324);
    expect(Math.abs(exp(709.782712893384) / Number.MAX_VALUE - 1)).toBeLessThan(1e-13);
    expect([log(1), log(0), log(-1), log(NaN), log(Infinity)]).toEqual([0, -Infinity, NaN, NaN, Infinity]);
    expect(log(5e-324)).toBe(Math.log(5e-324));
  });
});
