import stdlibErfcx from '@stdlib/math-base-special-erfcx';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { erfc, erfcx } from '../../../src/numeric/index.js';

const reference = JSON.parse(readFileSync(new URL('./erfcx.json', import.meta.url), 'utf8')) as {
  coefficients: number[];
  values: [number, string][];
};
const relative = (value: number, expected: number): number => Math.abs(value / expected - 1);

describe('erfcx', () => {
  test.each(reference.values)('agrees with 25-digit decimals at %d', (x, digits) => {
    expect(relative(erfcx(x), Number(digits))).toBeLessThan(x < 0 ? 3e-15 : 1e-15);
  });

  // Computed once with 90-digit arithmetic.
  test.each([
    [0, 1],
    [0.5, 0.6156903441929259],
    [1, 0.427583576155807],
    [2, 0.2553956763105057],
    [5, 0.1107046377330686],
    [10, 0.05614099274382259],
    [26, 0.02168358485056291],
    [100, 5.641613782989433e-3],
    [1e4, 5.641895807268084e-5],
    [1e8, 5.641895835477562e-9],
  ])('erfcx(%d) = %d to its last digit', (x, expected) => {
    expect(relative(erfcx(x), expected)).toBeLessThan(1e-15);
  });

  test('agrees with an outside implementation on 40 000 points', () => {
    let worst = 0;
    for (let i = 0; i < 20_000; i++) {
      const near = (i * 0.6180339887498949) % 1;
      for (const x of [near * 12, near / (1.00001 - near)]) worst = Math.max(worst, relative(erfcx(x), stdlibErfcx(x)));
    }
    expect(worst).toBeLessThan(1e-15);
  });

  test('its coefficients are the ones the committed program gives, to 17 decimals', () => {
    const source = readFileSync(new URL('../../../src/numeric/erfcx.ts', import.meta.url), 'utf8');
    const list = /coefficients: readonly number\[\] = \[([^\]]*)\]/.exec(source)?.[1] ?? '';
    const numbers = list.split(',').map((text) => text.trim()).filter((text) => text !== '').map(Number); // prettier-ignore
    reference.coefficients.forEach((value, k) => {
      // half of the last decimal; the five left away are smaller still
      expect(Math.abs((numbers[k] ?? 0) - value)).toBeLessThan(5.1e-18);
    });
  });

  test('beyond the range of numbers it says so, and erfc meets its limits', () => {
    expect([erfcx(-27), erfcx(Infinity), erfcx(NaN)]).toEqual([Infinity, 0, NaN]);
    expect([erfc(-Infinity), erfc(0), erfc(Infinity), erfc(30)]).toEqual([2, 1, 0, 0]);
    // Abramowitz and Stegun, Handbook of Mathematical Functions, table 7.1: erf(0.5), erf(1), erf(2) to 10 places; cited from memory.
    for (const [x, erf] of [
      [0.5, 0.5204998778],
      [1, 0.8427007929],
      [2, 0.995322265],
    ] as const) {
      // prettier-ignore
      expect(erfc(x)).toBeCloseTo(1 - erf, 9);
      expect(erfc(-x)).toBeCloseTo(1 + erf, 9);
    }
  });
});
