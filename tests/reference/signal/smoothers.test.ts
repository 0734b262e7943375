import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { smooth, type SmoothOptions } from '../../../src/index.js';
import { traceAt, traceOf } from '../../support/traces.js';

const reference = JSON.parse(readFileSync(new URL('smoothers.json', import.meta.url), 'utf8')) as {
  step: number;
  signal: number[];
  cases: (SmoothOptions & { ends: number; expected: number[] })[];
};

describe('scipy.ndimage, and a dense solution for Whittaker, give the same wherever whole windows fit', () => {
  const { step, signal, cases } = reference;
  const trace = traceAt(
    signal.map((_, i) => i * step),
    (i) => signal[i]!,
  );
  test.each(cases.map((each) => [JSON.stringify({ ...each, expected: undefined }), each] as const))(
    '%s',
    (_, { ends, expected, ...options }) => {
      const { signal: smoothed } = smooth(trace, options);
      expect(smoothed).toHaveLength(signal.length);
      for (let i = ends; i < signal.length - ends; i++) {
        // Rounding of sums of readings up to 90; that of the dense solution at a lambda of 1e8.
        const tolerance = options.method === 'whittaker' && options.sharpestBend > 10 ? 1e-6 : 1e-11;
        expect(Math.abs(smoothed[i]! - expected[i]!), `sample ${i}`).toBeLessThan(tolerance);
      }
    },
  );
});

// Rows computed apart from this project, with dense matrices, and kept to eight decimals.
describe("Whittaker's smoother (Eilers, Anal. Chem. 75 (2003) 3631-3636, from memory)", () => {
  const record = traceOf(
    60,
    (i) =>
      1 +
      0.02 * i +
      10 * Math.exp(-((i - 20) ** 2) / 18) +
      6 * Math.exp(-((i - 38) ** 2) / 8) +
      0.05 * Math.cos(2.1 * i),
  );
  test.each([
    [2, 100 ** (1 / 4), [0.81017569, 1.88602266, 7.88975314, 2.8246202, 4.52513735, 1.96569841, 2.14845095]],
    [1, 10, [2.27191774, 2.99853269, 4.7603921, 3.77234596, 3.72651979, 2.68335314, 2.50109114]],
  ])('with differences of order %d and lambda 100 gives the computed row', (differences, sharpestBend, row) => {
    const { signal } = smooth(record, { method: 'whittaker', sharpestBend, differences });
    [0, 10, 20, 30, 38, 50, 59].forEach((i, k) => {
      expect(Math.abs(signal[i]! - row[k]!)).toBeLessThan(6e-9);
    });
    expect(signal.reduce((a, b) => a + b, 0)).toBeCloseTo(200.68452016, 7);
  });
});
