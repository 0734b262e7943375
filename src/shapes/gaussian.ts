import { gaussianFct, gaussianWidthToFWHM, getGaussianArea } from 'ml-peak-shape-generator';
import { checkNumber, checkPositive } from '../core/index.js';
import { erfc } from '../numeric/index.js';

/**
 * A Gaussian peak.
 *
 * @public
 */
export interface GaussianShape {
  /** [y unit] Height of the apex; negative for a peak that points down. */
  readonly height: number;
  /** [x unit] Position of the apex. */
  readonly centre: number;
  /** [x unit] Standard deviation; above 0. */
  readonly sigma: number;
}

/**
 * Value of a Gaussian peak, height · exp(-(x - centre)² / (2 sigma²)).
 *
 * The value is that of `ml-peak-shape-generator`, which uses the engine's own
 * exponential: the last bit may differ between engines. {@link emg} with `tau` 0
 * is the same peak with the same bits everywhere; the two agree to 1e-13 of the
 * value within 8 sigma.
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @example
 * ```ts
 * gaussian(5, { height: 10, centre: 5, sigma: 0.05 }); // => 10
 * ```
 *
 * @public
 */
export function gaussian(x: number, shape: GaussianShape): number {
  checkGaussian('gaussian', shape);
  const u = x - shape.centre;
  // Beyond 39 sigma the value is below every number; an infinite x must not become NaN.
  if (Math.abs(u) > 39 * shape.sigma) return 0;
  return shape.height * gaussianFct(u, gaussianWidthToFWHM(2 * shape.sigma));
}

/**
 * Whole area of a Gaussian peak, height · sigma · √(2π).
 *
 * @param shape - The peak; `centre` does not matter.
 *
 * @returns [y unit · x unit] The area.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @public
 */
export function gaussianArea(shape: GaussianShape): number {
  checkGaussian('gaussianArea', shape);
  return getGaussianArea({ fwhm: gaussianWidthToFWHM(2 * shape.sigma), height: shape.height });
}

/**
 * Area of a Gaussian peak before a position; the area between two limits is the
 * difference of two of these.
 *
 * @param x - [x unit] Where; infinite values are allowed.
 * @param shape - The peak.
 *
 * @returns [y unit · x unit] The area from -∞ to x, to 1e-15 of the whole area.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @public
 */
export function gaussianAreaBefore(x: number, shape: GaussianShape): number {
  return (gaussianArea(shape) * erfc((shape.centre - x) / (shape.sigma * Math.SQRT2))) / 2;
}

function checkGaussian(caller: string, shape: GaussianShape): void {
  checkNumber(caller, 'height', shape.height);
  checkNumber(caller, 'centre', shape.centre);
  checkPositive(caller, 'sigma', shape.sigma);
}
