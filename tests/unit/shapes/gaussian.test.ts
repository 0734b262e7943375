import { describe, expect, test } from 'vitest';
import { gaussian, gaussianArea, gaussianAreaBefore } from '../../../src/index.js';

const shape = { height: 10, centre: 5, sigma: 0.05 };

describe('gaussian', () => {
  test('has the closed-form widths and area', () => {
    // W0.5 = √(8 ln 2) sigma, W0.05 = 2 √(2 ln 20) sigma, area = height sigma √(2π).
    expect(gaussian(5 + (0.05 * 2.354820045030949) / 2, shape)).toBeCloseTo(5, 12);
    expect(gaussian(5 - (0.05 * 4.895493661361633) / 2, shape)).toBeCloseTo(0.5, 12);
    expect(gaussianArea(shape)).toBeCloseTo(10 * 0.05 * 2.506628274631, 14);
  });

  test('has 68.27 % of its area within one sigma of the apex, and half before it', () => {
    const whole = gaussianArea(shape);
    expect(gaussianAreaBefore(5, shape)).toBeCloseTo(whole / 2, 14);
    const within = gaussianAreaBefore(5.05, shape) - gaussianAreaBefore(4.95, shape);
    expect(within / whole).toBeCloseTo(0.682689492137, 11); // erf(1/√2)
    expect([gaussianAreaBefore(-Infinity, shape), gaussianAreaBefore(Infinity, shape)]).toEqual([0, whole]);
  });

  test('is 0 far away and at infinity, never NaN', () => {
    expect([gaussian(1e9, shape), gaussian(-Infinity, shape)]).toEqual([0, 0]);
  });

  test.each([
    ['sigma', { ...shape, sigma: 0 }],
    ['sigma', { ...shape, sigma: -1 }],
    ['height', { ...shape, height: NaN }],
    ['centre', { ...shape, centre: Infinity }],
  ])('refuses a wrong %s by name', (field, wrong) => {
    for (const call of [() => gaussian(0, wrong), () => gaussianArea(wrong), () => gaussianAreaBefore(0, wrong)]) {
      expect(call).toThrow(
        expect.objectContaining({ code: 'option-invalid', details: expect.objectContaining({ field }) }),
      );
    }
  });
});
