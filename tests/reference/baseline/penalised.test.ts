import { matrixCholeskySolver } from 'ml-spectra-processing';
import { describe, expect, test } from 'vitest';
import { arpls } from '../../../src/baseline/index.js';
import { penalisedWork, solvePenalised } from '../../../src/numeric/index.js';
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
    expect(Math.abs(value - row[k]!), `column ${k}: ${value}`).toBeLessThan(6e-9);
  });
}

function whittaker(bend: number, pull: number): Float64Array {
  const z = new Float64Array(60);
  solvePenalised(record, ones, ones, 60, bend, pull, z, penalisedWork(60));
  return z;
}

// Rows computed apart from this project, with dense matrices, and kept to eight decimals.
describe("Whittaker's smoother (Eilers, Anal. Chem. 75 (2003) 3631-3636, from memory)", () => {
  test('with second differences and lambda 100 gives the computed row', () => {
    expectRow(
      whittaker(100, 0),
      [0.81017569, 1.88602266, 7.88975314, 2.8246202, 4.52513735, 1.96569841, 2.14845095, 200.68452016],
    );
  });

  test('with first differences and lambda 100 gives the computed row', () => {
    expectRow(
      whittaker(0, 100),
      [2.27191774, 2.99853269, 4.7603921, 3.77234596, 3.72651979, 2.68335314, 2.50109114, 200.68452016],
    );
  });

  test('agrees with the sparse Cholesky solver of a general library, with weights and both penalties', () => {
    const [bend, pull] = [1e4, 3];
    const weights = Float64Array.from({ length: 60 }, (_, i) => (i % 7 === 3 ? 0 : 0.2 + 0.8 * Math.abs(Math.sin(i))));
    const z = new Float64Array(60);
    const work = penalisedWork(60);
    solvePenalised(record, weights, ones, 60, bend, pull, z, work);
    const matrix = Array.from({ length: 60 }, (_, i) =>
      Array.from({ length: 60 }, (__, j) => (i === j ? weights[i]! : 0)),
    );
    const add = (stencil: readonly number[], factor: number) => {
      for (let i = 0; i + stencil.length <= 60; i++) {
        stencil.forEach((a, p) => stencil.forEach((b, q) => (matrix[i + p]![i + q]! += factor * a * b)));
      }
    };
    add([1, -2, 1], bend);
    add([1, -1], pull);
    const triplets = matrix.flatMap((row, i) =>
      row.flatMap((v, j) => (j >= i && v !== 0 ? [[i, j, v] as [number, number, number]] : [])),
    );
    const solve = matrixCholeskySolver(triplets, 60)!;
    const right = Float64Array.from(record, (y, i) => y * weights[i]!);
    expectClose(z, Array.from(solve(right)), 1e-9);
    for (const i of [0, 17, 59]) {
      const unit = new Float64Array(60);
      unit[i] = 1;
      expect(work.inverse[i]! / solve(unit)[i]!).toBeCloseTo(1, 8);
    }
  });
});

describe('arPLS (Baek, Park, Ahn, Choo, Analyst 140 (2015) 250-257, from memory)', () => {
  test.each([
    [1e4, 29, [0.97589297, 1.17724413, 1.37826457, 1.57855564, 1.73807003, 1.97674167, 2.1557863, 94.04672793]],
    [1e5, 28, [0.97643793, 1.17658735, 1.37669978, 1.57673475, 1.73668737, 1.97654737, 2.15644, 93.99692095]],
  ] as const)('with lambda %d comes to rest in %d rounds at the computed row', (stiffness, rounds, row) => {
    const fit = arpls(record, ones, stiffness, 1e-6, 100);
    expect(fit.settled).toBe(true);
    expect(fit.rounds).toBe(rounds);
    expectRow(fit.level, row);
  });

  test('says so when it is not given the rounds', () => {
    expect(arpls(record, ones, 1e4, 1e-6, 10)).toMatchObject({ settled: false, rounds: 10 });
  });

  test('ends at once on a straight line and on a record of one value', () => {
    for (const slope of [0, 0.25]) {
      const line = Float64Array.from({ length: 60 }, (_, i) => 2 + slope * i);
      const { level, settled } = arpls(line, ones, 1e5, 1e-6, 100);
      expect(settled).toBe(true);
      expectClose(level, line, 1e-9);
    }
  });

  test('has no overflow under peaks a million million times the noise', () => {
    const tall = record.map((y, i) => (i > 15 && i < 25 ? 1e12 : y));
    const { level, weight } = arpls(tall, ones, 1e4, 1e-6, 200);
    expect([...level, ...weight].every(Number.isFinite)).toBe(true);
  });

  test('gives points of weight 0 no say', () => {
    const given = ones.map((_, i) => (i > 10 && i < 30 ? 0 : 1));
    const other = record.map((y, i) => (given[i] === 0 ? -5 * i : y));
    expectClose(arpls(other, given, 1e4, 1e-6, 100).level, arpls(record, given, 1e4, 1e-6, 100).level, 1e-12);
  });
});
