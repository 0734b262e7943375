import { describe, expect, test } from 'vitest';
import { emg, emgAreaBefore, emgFromApex, emgHeight, emgMode, gaussian } from '../../../src/index.js';

const ratios = [-1e3, -20, -1, -0.02001, -0.01999, -1e-3, -1e-9, 0, 1e-12, 1e-6, 0.0199, 0.0201, 0.3, 1, 4, 30, 1e4];

describe('emg', () => {
  test.each(ratios)('with tau of %d sigma has its highest value at the apex, equal to the height', (tau) => {
    const shape = { area: 3, mean: 2, sigma: 1, tau };
    const mode = emgMode(shape);
    const height = emgHeight(shape);
    expect(Math.abs(emg(mode, shape) / height - 1)).toBeLessThan(1e-12);
    expect(emg(mode - 0.01, shape)).toBeLessThan(height);
    expect(emg(mode + 0.01, shape)).toBeLessThan(height);
  });

  // Trapezia over the whole smooth peak converge faster than any power of the step; 30 sigma and 40 tau hold all but 1e-17.
  test.each(ratios.filter((ratio) => Math.abs(ratio) <= 30))('with tau of %d sigma sums to its area', (tau) => {
    const shape = { area: 3, mean: 2, sigma: 1, tau };
    const from = 2 - 12 + 40 * Math.min(tau, 0);
    const to = 2 + 12 + 40 * Math.max(tau, 0);
    const step = 0.1;
    let sum = 0;
    for (let x = from; x < to; x += step) sum += emg(x, shape) * step;
    expect(Math.abs(sum / 3 - 1)).toBeLessThan(1e-12);
  });

  test.each(ratios)('with tau of %d sigma has an area before a position that grows by the values', (tau) => {
    const shape = { area: 3, mean: 2, sigma: 1, tau };
    const mode = emgMode(shape);
    for (const x of [mode - 2, mode, mode + 1, mode + 3]) {
      // Simpson on 0.001: the error of the rule is far below the rounding of the difference.
      const simpson = (emg(x, shape) + 4 * emg(x + 5e-4, shape) + emg(x + 1e-3, shape)) / 6000;
      expect(Math.abs(emgAreaBefore(x + 1e-3, shape) - emgAreaBefore(x, shape) - simpson)).toBeLessThan(1e-14);
    }
    expect(emgAreaBefore(-Infinity, shape)).toBeCloseTo(0, 14);
    expect(emgAreaBefore(Infinity, shape)).toBeCloseTo(3, 14);
  });

  test('is smooth where the formula changes', () => {
    // z = 0 at u = sigma/tau, and z = 6.71e7 at a tau near 1e-8 sigma.
    for (const tau of [0.5, 1, 2]) {
      const at = (du: number): number => emg(1 / tau + du, { area: 1, mean: 0, sigma: 1, tau });
      expect(Math.abs((at(1e-6) + at(-1e-6)) / 2 / at(0) - 1)).toBeLessThan(1e-11);
    }
    const near = (tau: number): number => emg(1, { area: 1, mean: 0, sigma: 1, tau });
    expect(Math.abs(near(1.0537e-8) / near(1.0539e-8) - 1)).toBeLessThan(1e-11);
  });

  test('with tau 0 is the Gaussian', () => {
    for (let x = -8; x <= 8; x += 0.01) {
      const value = emg(x, { area: 2.5066282746310002, mean: 0, sigma: 1, tau: 0 });
      expect(Math.abs(value / gaussian(x, { height: 1, centre: 0, sigma: 1 }) - 1)).toBeLessThan(1e-13);
    }
  });

  test('never gives anything but a finite number, however far and however skewed', () => {
    for (const tau of [-1e90, -1e5, -1, -1e-200, 0, 1e-320, 1e-9, 1, 1e5, 1e90]) {
      for (const x of [-Infinity, -1e300, -1e4, -50, 0, 50, 1e4, 1e300, Infinity]) {
        const shape = { area: 1, mean: 0, sigma: 1, tau };
        expect(Number.isFinite(emg(x, shape))).toBe(true);
        expect(emg(x, shape)).toBeGreaterThanOrEqual(0);
        expect(Number.isFinite(emgAreaBefore(x, shape))).toBe(true);
      }
    }
  });

  test.each(ratios)('from an apex and a height with tau of %d sigma has that apex and height', (ratio) => {
    const shape = emgFromApex({ position: 5, height: -20, sigma: 0.04, tau: 0.04 * ratio });
    expect(emgMode(shape)).toBeCloseTo(5, 12);
    expect(emgHeight(shape)).toBeCloseTo(-20, 11);
  });

  test.each([
    ['sigma', { area: 1, mean: 0, sigma: 0, tau: 1 }],
    ['sigma', { area: 1, mean: 0, sigma: NaN, tau: 1 }],
    ['tau', { area: 1, mean: 0, sigma: 1, tau: Infinity }],
    ['mean', { area: 1, mean: NaN, sigma: 1, tau: 1 }],
    ['area', { area: Infinity, mean: 0, sigma: 1, tau: 1 }],
  ])('refuses a wrong %s by name', (field, shape) => {
    for (const call of [
      () => emg(0, shape),
      () => emgAreaBefore(0, shape),
      () => emgMode(shape),
      () => emgHeight(shape),
    ]) {
      expect(call).toThrow(
        expect.objectContaining({ code: 'option-invalid', details: expect.objectContaining({ field }) }),
      );
    }
  });
});
