import { describe, expect, test } from 'vitest';
import { createRandom } from '../../../src/simulate/index.js';

const n = 200_000;

describe('createRandom', () => {
  test('fills the unit interval evenly', () => {
    const random = createRandom(7);
    const counts = new Array<number>(100).fill(0);
    for (let i = 0; i < n; i++) counts[Math.floor(random.uniform() * 100)]! += 1;
    const chiSquared = counts.reduce((sum, count) => sum + (count - n / 100) ** 2 / (n / 100), 0);
    // Chi-squared with 99 degrees of freedom: 148.2 is exceeded once in a thousand, 60.0 undercut once in two thousand.
    expect(chiSquared).toBeGreaterThan(60);
    expect(chiSquared).toBeLessThan(148.2);
  });

  test('gives normal values: moments, tails and independence of neighbours within four standard errors', () => {
    const random = createRandom(11);
    let [sum, square, cube, fourth, lagged, beyondTwo, last] = [0, 0, 0, 0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      const x = random.normal();
      sum += x;
      square += x * x;
      cube += x ** 3;
      fourth += x ** 4;
      lagged += x * last;
      if (Math.abs(x) > 2) beyondTwo += 1;
      last = x;
    }
    const root = Math.sqrt(n);
    expect(Math.abs(sum / n)).toBeLessThan(4 / root);
    expect(Math.abs(square / n - 1)).toBeLessThan((4 * Math.sqrt(2)) / root);
    expect(Math.abs(cube / n)).toBeLessThan((4 * Math.sqrt(15)) / root);
    expect(Math.abs(fourth / n - 3)).toBeLessThan((4 * Math.sqrt(96)) / root);
    expect(Math.abs(lagged / n)).toBeLessThan(4 / root);
    expect(Math.abs(beyondTwo / n - 0.04550026)).toBeLessThan((4 * 0.2084) / root); // 2 (1 - Φ(2))
  });

  test('two streams of one seed do not correlate', () => {
    const [a, b] = [createRandom(3, 1), createRandom(3, 2)];
    let product = 0;
    for (let i = 0; i < n; i++) product += a.normal() * b.normal();
    expect(Math.abs(product / n)).toBeLessThan(4 / Math.sqrt(n));
  });
});
