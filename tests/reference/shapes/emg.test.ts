import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { emg, emgAreaBefore, emgHeight, emgMode } from '../../../src/index.js';

const scipy = JSON.parse(readFileSync(new URL('./emg-scipy.json', import.meta.url), 'utf8')) as {
  rows: [number, number, number, number][];
};
const relative = (value: number, expected: number): number => Math.abs(value / expected - 1);

describe('the exponentially modified Gaussian', () => {
  // Area 1, mean 5, sigma 0.05; 90-digit arithmetic. The time itself is rounded to 1e-15, which the steep
  // flank turns into 1e-14 of the value; the last row is printed to 13 digits.
  test.each([
    [0.05, 4.8, 5.160710436670073e-4],
    [0.05, 5, 5.231565837302467],
    [0.05, 5.1, 3.75458775860628],
    [0.05, 5.5, 1.497036597754012e-3],
    [0.05, 6, 6.796535638990142e-8],
    [0.1, 4.8, 2.844836877152984e-4],
    [0.1, 5, 3.496188347203981],
    [0.1, 5.1, 3.890126348285036],
    [0.1, 5.5, 7.635094218859961e-2],
    [0.1, 6, 5.144486017970227e-4],
    [0.001, 4.9, 1.037904260610273],
    [0.001, 5, 7.975657891993013],
    [0.001, 5.06, 3.97755360749898],
    [1e-6, 4.9, 1.079776138786317],
    [1e-6, 5, 7.978845604837115],
    [1e-6, 5.06, 3.883814309654127],
    [1e-9, 4.9, 1.079819287070989],
    [1e-9, 5, 7.97884560802865],
    [1e-9, 5.06, 3.883721192873566],
    [5, 4.9, 4.533102490737638e-3],
    [5, 5, 9.920708896751526e-2],
    [5, 6, 0.1637543381278133],
    [5, 20, 9.957911556703e-3],
  ])('tau %d has its value at %d, and mirrored with the sign of tau turned', (tau, x, expected) => {
    const tolerance = x === 20 ? 1e-13 : 3e-14;
    expect(relative(emg(x, { area: 1, mean: 5, sigma: 0.05, tau }), expected)).toBeLessThan(tolerance);
    expect(relative(emg(10 - x, { area: 1, mean: 5, sigma: 0.05, tau: -tau }), expected)).toBeLessThan(tolerance);
  });

  // 90-digit arithmetic, 12 places.
  test.each([
    [0.25, 0.237202398435, 0.387875439888],
    [0.5, 0.428142311623, 0.364003624963],
    [1, 0.697369159288, 0.312828423846],
    [1.5, 0.880938764484, 0.270640180766],
    [2, 1.017912715992, 0.237636833136],
    [3, 1.215383841777, 0.190611591335],
  ])('tau of %d sigma puts the apex at %d sigma, at height %d', (tau, offset, height) => {
    expect(Math.abs(emgMode({ area: 1, mean: 0, sigma: 1, tau }) - offset)).toBeLessThan(1e-12);
    expect(Math.abs(emgMode({ area: 1, mean: 0, sigma: 1, tau: -tau }) + offset)).toBeLessThan(1e-12);
    expect(Math.abs(emgHeight({ area: 1, mean: 0, sigma: 1, tau }) - height)).toBeLessThan(1e-12);
  });

  // scipy.stats.exponnorm works with plain exponentials and loses digits at some ratios: 1e-8 of the value, 1e-12 of the area.
  test('agrees with a second implementation in value and in area before a position', () => {
    expect(scipy.rows.length).toBe(54);
    for (const [tau, x, value, before] of scipy.rows) {
      expect(relative(emg(x, { area: 1, mean: 0, sigma: 1, tau }), value)).toBeLessThan(1e-8);
      expect(Math.abs(emgAreaBefore(x, { area: 1, mean: 0, sigma: 1, tau }) - before)).toBeLessThan(1e-12);
    }
  });
});
