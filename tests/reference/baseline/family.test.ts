import { describe, expect, test } from 'vitest';
import { asls, polynomialBaseline, snip } from '../../../src/baseline/index.js';
import { expectClose } from '../../support/close.js';

/** Two peaks and a ripple on the line 1 + 0.02 i: the record of the tables below. */
const record = Float64Array.from(
  { length: 60 },
  (_, i) =>
    1 + 0.02 * i + 10 * Math.exp(-((i - 20) ** 2) / 18) + 6 * Math.exp(-((i - 38) ** 2) / 8) + 0.05 * Math.cos(2.1 * i),
);
const ones = new Float64Array(60).fill(1);

/** Values at these points, then the sum of all, to the eighth decimal. */
function expectRow(z: Float64Array, row: readonly number[]): void {
  const shown = [0, 10, 20, 30, 38, 50, 59].map((i) => z[i]!);
  const sum = z.reduce((a, b) => a + b, 0);
  [...shown, sum].forEach((value, k) => {
    // Both solutions carry 16 digits through a matrix of condition 16 lambda / p, up to 1e9; in the sum that adds up.
    expect(Math.abs(value - row[k]!), `column ${k}: ${value}`).toBeLessThan(k === 7 ? 1e-7 : 6e-9);
  });
}

// Rows computed apart from this project, from the published definitions, and kept to eight decimals.
describe('AsLS (Eilers, Boelens, Leiden University Medical Centre report (2005), from memory)', () => {
  test.each([
    [1e4, 0.01, [1.0083323, 1.27739645, 1.52559777, 1.72454253, 1.85477287, 2.01953488, 2.13735295, 99.64972635]],
    [1e5, 0.001, [0.98631685, 1.18507161, 1.38346758, 1.58107672, 1.73859839, 1.97422209, 2.15075858, 94.21109563]],
  ])('with lambda %d and p %d gives the computed row in ten rounds', (stiffness, p, row) => {
    expectRow(asls(record, ones, stiffness, p, 10).level, row);
  });

  test('with p 0.5 is the line of equal weights, of half the weight and so twice as stiff', () => {
    const { level, rounds, settled } = asls(record, ones, 1e4, 0.5, 10);
    expect([rounds, settled]).toStrictEqual([2, true]);
    expectClose(level, asls(record, ones, 2e4, 0.5, 1).level, 1e-12);
  });

  test('says so when it is not given the rounds', () => {
    expect(asls(record, ones, 1e4, 0.01, 2)).toMatchObject({ settled: false, rounds: 2 });
  });
});

describe('SNIP (Ryan et al., Nucl. Instrum. Methods B 34 (1988) 396-402, from memory)', () => {
  test.each([
    [false, false, [1.05, 1.21127274, 1.39442541, 1.59943525, 1.76147191, 1.9696993, 2.17041422, 95.61164553]],
    [true, false, [1.05, 1.17651937, 1.38971174, 1.59505394, 1.74443291, 1.9662378, 2.17041422, 94.21731993]],
    [true, true, [1.05, 1.16587476, 1.37601199, 1.58451996, 1.735166, 1.96309784, 2.17041422, 93.80149871]],
  ])('over 12 points, shrinking %s, compressed %s, gives the computed row', (shrinking, compress, row) => {
    expectRow(snip(record, ones, 12, shrinking, compress).level, row);
  });

  test('bridges points of weight 0 before it clips', () => {
    const given = ones.map((_, i) => (i > 10 && i < 30 ? 0 : 1));
    const other = record.map((y, i) => (given[i] === 0 ? -5 * i : y));
    expectClose(snip(other, given, 12, true, false).level, snip(record, given, 12, true, false).level, 0);
  });
});

describe('The iterative polynomial (Lieber, Mahadevan-Jansen, Appl. Spectrosc. 57 (2003) 1363-1367, from memory)', () => {
  test('of degree 2 gives the computed row in 100 rounds', () => {
    expectRow(
      polynomialBaseline(record, ones, 2, 0, 100).level,
      [0.38180794, 1.09257098, 1.50741146, 1.62632938, 1.50839948, 0.97639755, 0.29774929, 71.01906665],
    );
  });

  test('returns a polynomial of its degree unchanged, at every degree up to 12', () => {
    for (let degree = 0; degree <= 12; degree++) {
      const curve = Float64Array.from({ length: 200 }, (_, i) => 3 * (i / 100 - 1) ** degree - i / 100 + 5);
      const { level, settled } = polynomialBaseline(
        curve,
        new Float64Array(200).fill(1),
        Math.max(degree, 1),
        1e-6,
        50,
      );
      expect(settled).toBe(true);
      expectClose(level, curve, 1e-9);
    }
  });

  test('has no degree that its points do not determine', () => {
    const given = ones.map((_, i) => (i === 5 || i === 50 ? 1 : 0));
    const { level } = polynomialBaseline(record, given, 6, 1e-6, 200);
    expect(level[5]).toBeCloseTo(record[5]!, 9);
    expect(level[50]).toBeCloseTo(record[50]!, 9);
  });
});
