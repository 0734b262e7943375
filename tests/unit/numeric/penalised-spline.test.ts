import { inverse, Matrix, solve } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { penalisedWork, solvePenalised } from '../../../src/numeric/index.js';
import { expectClose } from '../../support/close.js';
import { repeatableNormals, repeatableNumbers } from '../../support/traces.js';

interface Problem {
  readonly y: Float64Array;
  readonly w: Float64Array;
  readonly joined: Float64Array;
  readonly bend: number;
  readonly pull: number;
}

/** The normal equations written out: W + pull D1' J D1 + bend D2' JJ D2. */
function dense({ w, joined, bend, pull }: Problem): Matrix {
  const n = w.length;
  const matrix = Matrix.diag(Array.from(w));
  const add = (row: number[], from: number, factor: number): void => {
    row.forEach((a, p) => {
      row.forEach((b, q) => {
        matrix.set(from + p, from + q, matrix.get(from + p, from + q) + factor * a * b);
      });
    });
  };
  for (let i = 0; i + 1 < n; i++) add([-1, 1], i, pull * joined[i]!);
  for (let i = 0; i + 2 < n; i++) add([1, -2, 1], i, bend * joined[i]! * joined[i + 1]!);
  return matrix;
}

function solved({ y, w, joined, bend, pull }: Problem): { z: Float64Array; inverse: Float64Array } {
  const z = new Float64Array(y.length);
  const work = penalisedWork(y.length);
  solvePenalised(y, w, joined, y.length, bend, pull, z, work);
  return { z, inverse: work.inverse };
}

function problem(n: number, bend: number, pull: number, breaks: readonly number[] = []): Problem {
  const normal = repeatableNormals(n + 1);
  const uniform = repeatableNumbers(n + 2);
  return {
    y: Float64Array.from({ length: n }, (_, i) => Math.sin(i / 5) + 0.3 * normal()),
    w: Float64Array.from({ length: n }, () => (uniform() < 0.2 ? 0 : uniform())),
    joined: Float64Array.from({ length: n }, (_, i) => (breaks.includes(i) ? 0 : 1)),
    bend,
    pull,
  };
}

describe('the penalised line', () => {
  test.each([
    [3, 1, 0.5, []],
    [4, 10, 0, []],
    [40, 0, 3, []],
    [40, 100, 0, []],
    [40, 1e4, 0.7, []],
    [60, 1e3, 2, [20]],
    [60, 1e3, 2, [20, 21]],
    [60, 1e3, 2, [1, 40, 57]],
  ] as const)('through %d knots with bend %d, pull %d, breaks %j is that of a dense solve', (n, bend, pull, breaks) => {
    const p = problem(n, bend, pull, breaks);
    // Neither end nor a piece between breaks is without weight.
    for (const i of [0, n - 1, ...breaks, ...breaks.map((b) => b + 1)]) p.w[i] = 0.5;
    const matrix = dense(p);
    const right = Matrix.columnVector(Array.from(p.y, (y, i) => y * p.w[i]!));
    const { z, inverse: diagonal } = solved(p);
    // Conditions up to about 1e7 cost as many digits.
    expectClose(z, solve(matrix, right).to1DArray(), 1e-8);
    expectClose(diagonal, inverse(matrix).diagonal(), 1e-8);
  });

  test('does not reach across a break: what lies beyond has no say', () => {
    const p = { ...problem(60, 1e3, 2, [29]), w: new Float64Array(60).fill(1) };
    const other = { ...p, y: p.y.map((y, i) => (i > 29 ? 1000 - y : y)) };
    expect(solved(other).z.subarray(0, 30)).toEqual(solved(p).z.subarray(0, 30));
    const joined = { ...other, joined: new Float64Array(60).fill(1) };
    expect(Math.abs(solved(joined).z[29]! - solved(p).z[29]!)).toBeGreaterThan(10);
  });

  test('with a penalty on bends only gives a straight line back, however stiff', () => {
    const y = Float64Array.from({ length: 50 }, (_, i) => 3 - 0.25 * i);
    const p = { ...problem(50, 1e6, 0), y, w: new Float64Array(50).fill(1) };
    expectClose(solved(p).z, y, 1e-9);
  });

  test('has as many parameters as knots when free, and two when infinitely stiff', () => {
    const parameters = (bend: number): number => {
      const { inverse: diagonal } = solved({ ...problem(50, bend, 0), w: new Float64Array(50).fill(1) });
      return diagonal.reduce((sum, v) => sum + v, 0);
    };
    expect(parameters(1e-9)).toBeCloseTo(50, 5);
    expect(parameters(1e9)).toBeCloseTo(2, 2);
    expect(parameters(10)).toBeGreaterThan(parameters(100));
  });
});
