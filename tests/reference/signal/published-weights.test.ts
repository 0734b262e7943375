import { describe, expect, test } from 'vitest';
import { smooth } from '../../../src/index.js';
import { expectClose } from '../../support/close.js';
import { traceOf } from '../../support/traces.js';

/**
 * Savitzky and Golay (1964) as corrected by Steinier, Termonia and Deltour
 * (1972), both from memory and recomputed as exact fractions: points, degrees
 * that share the row, derivative, left half of the weights up to the centre
 * (first derivative: centre and right half), norm, sum of squared weights.
 */
const table: readonly (readonly [number, readonly number[], number, readonly number[], number, number])[] = [
  [5, [2, 3], 0, [-3, 12, 17], 35, 0.48571429],
  [7, [2, 3], 0, [-2, 3, 6, 7], 21, 0.33333333],
  [9, [2, 3], 0, [-21, 14, 39, 54, 59], 231, 0.25541126],
  [11, [2, 3], 0, [-36, 9, 44, 69, 84, 89], 429, 0.20745921],
  [13, [2, 3], 0, [-11, 0, 9, 16, 21, 24, 25], 143, 0.17482517],
  [15, [2, 3], 0, [-78, -13, 42, 87, 122, 147, 162, 167], 1105, 0.15113122],
  [25, [2, 3], 0, [-253, -138, -33, 62, 147, 222, 287, 342, 387, 422, 447, 462, 467], 5175, 0.09024155],
  [7, [4, 5], 0, [5, -30, 75, 131], 231, 0.56709957],
  [9, [4, 5], 0, [15, -55, 30, 135, 179], 429, 0.41724942],
  [11, [4, 5], 0, [18, -45, -10, 60, 120, 143], 429, 0.33333333],
  [5, [1, 2], 1, [0, 1, 2], 10, 0.1],
  [7, [1, 2], 1, [0, 1, 2, 3], 28, 0.03571429],
  [9, [1, 2], 1, [0, 1, 2, 3, 4], 60, 0.01666667],
  [5, [3, 4], 1, [0, 8, -1], 12, 0.90277778],
  [7, [3, 4], 1, [0, 58, 67, -22], 252, 0.26256614],
  [9, [3, 4], 1, [0, 126, 193, 142, -86], 1188, 0.11433782],
  [5, [2, 3], 2, [2, -1, -2], 7, 0.28571429],
  [7, [2, 3], 2, [5, 0, -3, -4], 42, 0.04761905],
  [9, [2, 3], 2, [28, 7, -8, -17, -20], 462, 0.01298701],
  [11, [2, 3], 2, [15, 6, -1, -6, -9, -10], 429, 0.004662],
  [7, [4, 5], 2, [-13, 67, -19, -70], 132, 0.85732323],
  [9, [4, 5], 2, [-126, 371, 151, -211, -370], 1716, 0.19648407],
];

/** The whole row from its half: mirrored, and for the first derivative with the sign turned. */
function wholeRow(derivative: number, half: readonly number[]): number[] {
  if (derivative === 1)
    return [
      ...half
        .slice(1)
        .map((w) => -w)
        .reverse(),
      ...half,
    ];
  return [...half, ...half.slice(0, -1).reverse()];
}

const cases = table.flatMap(([points, degrees, derivative, half, norm, gain]) =>
  degrees.map((polynomial) => ({ points, polynomial, derivative, row: wholeRow(derivative, half), norm, gain })),
);

describe('the response to a single sample', () => {
  test.each(cases)(
    'is the published row of $points points, degree $polynomial, derivative $derivative',
    ({ points, polynomial, derivative, row, norm, gain }) => {
      const centre = 40;
      const impulse = traceOf(81, (i) => (i === centre ? 1 : 0));
      const { signal } = smooth(impulse, { method: 'savitzky-golay', window: points, polynomial, derivative });
      const from = centre - (points - 1) / 2;
      // Sample centre - j sees the impulse j samples to its right: with weight j.
      const weights = Array.from(signal.slice(from, from + points)).reverse();
      expectClose(
        weights.map((w) => w * norm),
        row,
        1e-13,
      );
      const outside = Array.from(signal).filter((_, i) => i < from || i >= from + points);
      expect(outside.every((y) => y === 0)).toBe(true);
      // How much of the variance of white noise is left.
      expect(weights.reduce((sum, w) => sum + w * w, 0)).toBeCloseTo(gain, 8);
    },
  );
});

describe('the apex of a Gaussian peak', () => {
  // Computed from the rows above: height kept by a quadratic smooth of 5, 7 and 9 points.
  test.each([
    [2, [0.98687833, 0.94907319, 0.88755517]],
    [3, [0.99710294, 0.98713407, 0.96682806]],
    [5, [0.999602, 0.9980953, 0.99460536]],
  ])('of standard deviation %s samples keeps the height that follows from the weights, and its area', (sigma, kept) => {
    const peak = traceOf(121, (i) => Math.exp(-0.5 * ((i - 60) / sigma) ** 2));
    const area = peak.signal.reduce((sum, y) => sum + y, 0);
    for (const [k, points] of [5, 7, 9].entries()) {
      const { signal } = smooth(peak, { method: 'savitzky-golay', window: points });
      expect(signal[60]).toBeCloseTo(kept[k]!, 8);
      expect(signal.reduce((sum, y) => sum + y, 0) / area).toBeCloseTo(1, 12);
    }
  });
});
