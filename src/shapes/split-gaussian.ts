import { exp, log } from '../numeric/index.js';
import { refuse, rootTwoPi, type PeakFamily } from './family.js';
import { valueAt } from './value-at.js';

/**
 * Two halves of Gaussians that meet at the apex.
 *
 * @public
 */
export interface SplitGaussianShape {
  /** [y unit] Height of the apex. */
  readonly height: number;
  /** [x unit] Position of the apex. */
  readonly centre: number;
  /** [x unit] Standard deviation of the half before the apex; above 0. */
  readonly sigmaBefore: number;
  /** [x unit] Standard deviation of the half after the apex; above 0. */
  readonly sigmaAfter: number;
}

/**
 * The split Gaussian for a fit: height, centre, sigma before and after the apex.
 * Its ratio of distances after and before the apex is sigmaAfter / sigmaBefore
 * at every height.
 *
 * Source: Buys and De Clerk, Anal. Chem. 44 (1972) 1273-1275 (cited from memory);
 * the third moment follows from the moments of half a Gaussian.
 */
export const splitGaussianFamily: PeakFamily = {
  name: 'split-gaussian',
  parameters: [
    { name: 'height', unit: 'y', domain: 'any' },
    { name: 'centre', unit: 'x', domain: 'any' },
    { name: 'sigmaBefore', unit: 'x', domain: 'above 0' },
    { name: 'sigmaAfter', unit: 'x', domain: 'above 0' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const height = parameters[first]!;
    const centre = parameters[first + 1]!;
    const sigmaBefore = parameters[first + 2]!;
    const sigmaAfter = parameters[first + 3]!;
    if (!(sigmaBefore > 0 && sigmaAfter > 0)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const x = time[i]! - centre;
      const sigma = x < 0 ? sigmaBefore : sigmaAfter;
      const u = x / sigma;
      const unit = exp((-u * u) / 2);
      const y = height * unit;
      value[i] = value[i]! + y;
      if (jacobian === undefined) continue;
      const slope = unit === 0 ? 0 : (y * u) / sigma;
      const bySigma = unit === 0 ? 0 : slope * u;
      jacobian[place] = unit;
      jacobian[place + n] = slope;
      jacobian[place + 2 * n] = x < 0 ? bySigma : 0;
      jacobian[place + 3 * n] = x < 0 ? 0 : bySigma;
    }
  },
  area: (parameters, first) => (parameters[first]! * rootTwoPi * (parameters[first + 2]! + parameters[first + 3]!)) / 2,
  mode: (parameters, first) => parameters[first + 1]!,
  width(parameters, first, fraction) {
    const units = Math.sqrt(-2 * log(fraction));
    const before = parameters[first + 2]! * units;
    const after = parameters[first + 3]! * units;
    return { before, after, width: before + after };
  },
  moments(parameters, first) {
    const before = parameters[first + 2]!;
    const after = parameters[first + 3]!;
    const apart = after - before;
    const shift = (2 / rootTwoPi) * apart; // √(2/π)
    const variance = (1 - (4 / rootTwoPi) * (1 / rootTwoPi)) * apart * apart + before * after;
    const second = variance + shift * shift;
    return {
      mean: parameters[first + 1]! + shift,
      variance,
      third: 2 * shift * (before * before + after * after) - 3 * shift * second + 2 * shift * shift * shift,
    };
  },
};

/**
 * Value of a split Gaussian.
 *
 * Source: Buys and De Clerk, Anal. Chem. 44 (1972) 1273-1275 (cited from memory).
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value; 0 at infinity.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or a sigma not above 0.
 *
 * @example
 * ```ts
 * splitGaussian(5, { height: 10, centre: 5, sigmaBefore: 0.04, sigmaAfter: 0.06 }); // => 10
 * ```
 *
 * @public
 */
export function splitGaussian(x: number, shape: SplitGaussianShape): number {
  return valueAt('splitGaussian', splitGaussianFamily, x, shape);
}
