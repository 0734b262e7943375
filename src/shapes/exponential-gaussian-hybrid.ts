import { exp, expm1, log } from '../numeric/index.js';
import { refuse, type PeakFamily } from './family.js';
import { valueAt } from './value-at.js';

/**
 * The hybrid of an exponential and a Gaussian.
 *
 * @public
 */
export interface ExponentialGaussianHybridShape {
  /** [y unit] Height of the apex. */
  readonly height: number;
  /** [x unit] Position of the apex. */
  readonly centre: number;
  /** [x unit] Standard deviation of the Gaussian it becomes at tau 0; above 0. */
  readonly sigma: number;
  /** [x unit] Time constant of the exponential side; negative fronts. */
  readonly tau: number;
}

/**
 * The exponential-Gaussian hybrid for a fit: height, centre, sigma, tau.
 *
 * height · exp(-x² / (2 sigma² + tau x)) about the apex, 0 where the denominator is
 * not above 0. With x = (2 sigma² / tau) (eˢ - 1) and κ = 4 sigma² / tau² it is
 * exp(-κ (cosh s - 1)): the area is height |tau| κ exp(κ) K₁(κ), and the moments
 * follow in the same way, by trapezia that converge faster than any power.
 *
 * Source: Lan and Jorgenson, J. Chromatogr. A 915 (2001) 1-13 (cited from memory);
 * area and moments derived here, exact where theirs are polynomials.
 */
export const exponentialGaussianHybridFamily: PeakFamily = {
  name: 'exponential-gaussian-hybrid',
  parameters: [
    { name: 'height', unit: 'y', domain: 'any' },
    { name: 'centre', unit: 'x', domain: 'any' },
    { name: 'sigma', unit: 'x', domain: 'above 0' },
    { name: 'tau', unit: 'x', domain: 'any' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const height = parameters[first]!;
    const centre = parameters[first + 1]!;
    const sigma = parameters[first + 2]!;
    const tau = parameters[first + 3]!;
    if (!(sigma > 0)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const x = time[i]! - centre;
      const d = 2 * sigma * sigma + tau * x;
      const q = x / d;
      const unit = d > 0 ? exp(-x * q) : 0;
      const y = height * unit;
      value[i] = value[i]! + y;
      if (jacobian === undefined) continue;
      const square = unit === 0 ? 0 : y * q * q;
      jacobian[place] = unit;
      jacobian[place + n] = unit === 0 ? 0 : 2 * y * q - tau * square;
      jacobian[place + 2 * n] = 4 * sigma * square;
      jacobian[place + 3 * n] = unit === 0 ? 0 : square * x;
    }
  },
  area: (parameters, first) => parameters[first]! * integrals(parameters, first).zeroth,
  mode: (parameters, first) => parameters[first + 1]!,
  width(parameters, first, fraction) {
    const sigma = parameters[first + 2]!;
    const tau = parameters[first + 3]!;
    const l = -log(fraction);
    // The roots of x² = l (2 sigma² + tau x), each without a difference.
    const root = Math.sqrt(l * (l * tau * tau + 8 * sigma * sigma));
    const far = (l * Math.abs(tau) + root) / 2;
    const near = (2 * l * sigma * sigma) / far;
    return tau < 0 ? { before: far, after: near, width: far + near } : { before: near, after: far, width: far + near };
  },
  moments(parameters, first) {
    const { mean, variance, third } = integrals(parameters, first);
    return { mean: parameters[first + 1]! + mean, variance, third };
  },
};

/** Area for height 1 and the moments about the apex and the mean. */
function integrals(
  parameters: ArrayLike<number>,
  first: number,
): {
  readonly zeroth: number;
  readonly mean: number;
  readonly variance: number;
  readonly third: number;
} {
  const sigma = parameters[first + 2]!;
  const tau = parameters[first + 3]!;
  const rootKappa = (2 * sigma) / Math.abs(tau);
  // In v = s √κ the peak has unit width when κ is large; the right tail ends where κ (cosh s - 1) passes 45.
  const steps = 400;
  const reach = rootKappa > 1 ? 10 : 10 * rootKappa + rootKappa * (1 + log(1 + 90 / (rootKappa * rootKappa)));
  const sums = [0, 0, 0, 0];
  const places: number[] = [];
  const weights: number[] = [];
  for (let k = -steps; k <= steps; k++) {
    const v = (k / steps) * reach;
    const s = v / rootKappa;
    // √κ (eˢ - 1) and √κ 2 sinh(s / 2), whose limits for tau 0 are v
    const rise = tau === 0 ? v : rootKappa * expm1(s);
    const sinh = tau === 0 ? v : rootKappa * (expm1(s / 2) - expm1(-s / 2));
    const weight = exp((-sinh * sinh) / 2 + (tau === 0 ? 0 : s));
    places.push(rise);
    weights.push(weight);
    sums[0] = sums[0]! + weight;
    sums[1] = sums[1]! + weight * rise;
  }
  const mean = sums[1]! / sums[0]!;
  places.forEach((place, k) => {
    const apart = place - mean;
    sums[2] = sums[2]! + weights[k]! * apart * apart;
    sums[3] = sums[3]! + weights[k]! * apart * apart * apart;
  });
  const side = tau < 0 ? -1 : 1;
  return {
    zeroth: sums[0]! * (reach / steps) * sigma,
    mean: side * sigma * mean,
    variance: (sigma * sigma * sums[2]!) / sums[0]!,
    third: (side * sigma * sigma * sigma * sums[3]!) / sums[0]!,
  };
}

/**
 * Value of an exponential-Gaussian hybrid.
 *
 * Source: Lan and Jorgenson, J. Chromatogr. A 915 (2001) 1-13 (cited from memory).
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value; 0 at infinity and beyond the end of the steep side.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @example
 * ```ts
 * exponentialGaussianHybrid(5.1, { height: 1, centre: 5, sigma: 0.05, tau: 0.05 }); // => 0.367879441
 * ```
 *
 * @public
 */
export function exponentialGaussianHybrid(x: number, shape: ExponentialGaussianHybridShape): number {
  return valueAt('exponentialGaussianHybrid', exponentialGaussianHybridFamily, x, shape);
}
