import { clipped, emgFamily, unitEmg } from './emg-family.js';
import { refuse, type PeakFamily } from './family.js';
import { valueAt } from './value-at.js';

/**
 * A peak of which a small part is held back by a second kind of site: the sum of
 * two exponentially modified Gaussians that share mean and sigma.
 *
 * @public
 */
export interface EmgWithSlowTailShape {
  /** [y unit · x unit] Whole area of both parts. */
  readonly area: number;
  /** [x unit] Mean of the Gaussian part. */
  readonly mean: number;
  /** [x unit] Standard deviation of the Gaussian part; above 0. */
  readonly sigma: number;
  /** [x unit] Time constant of the main part; any sign, or 0. */
  readonly tau: number;
  /** [-] Fraction of the area that is in the slow part, 0 to 1. */
  readonly slowFraction: number;
  /** [x unit] Time constant of the slow part; much longer than `tau`. */
  readonly slowTau: number;
}

/**
 * The peak with a slow tail for a fit: area, mean, sigma, tau, slowFraction,
 * slowTau. With tau held at 0 the main part is a Gaussian.
 *
 * A mixture of exponentially modified Gaussians; that a few slow sites give such
 * a tail is common practice, no source.
 */
export const emgWithSlowTailFamily: PeakFamily = {
  name: 'emg-with-slow-tail',
  parameters: [
    ...emgFamily.parameters,
    { name: 'slowFraction', unit: '-', domain: '0 to 1' },
    { name: 'slowTau', unit: 'x', domain: 'any' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const area = parameters[first]!;
    const mean = parameters[first + 1]!;
    const sigma = parameters[first + 2]!;
    const tau = parameters[first + 3]!;
    const fraction = parameters[first + 4]!;
    const slowTau = parameters[first + 5]!;
    const ratio = Math.abs(tau) / sigma;
    const slowRatio = Math.abs(slowTau) / sigma;
    if (!(sigma > 0 && ratio <= 1e100 && slowRatio <= 1e100)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    const main = new Float64Array(4);
    const slow = new Float64Array(4);
    const side = tau < 0 ? -1 : 1;
    const slowSide = slowTau < 0 ? -1 : 1;
    const scale = area / sigma;
    const scale2 = scale / sigma;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const u = clipped((time[i]! - mean) / sigma);
      unitEmg(side * u, ratio, main);
      unitEmg(slowSide * u, slowRatio, slow);
      const unit = (1 - fraction) * main[0]! + fraction * slow[0]!;
      value[i] = value[i]! + scale * unit;
      if (jacobian === undefined) continue;
      const mainShare = (1 - fraction) * side;
      const slowShare = fraction * slowSide;
      jacobian[place] = unit / sigma;
      jacobian[place + n] = -scale2 * (mainShare * main[1]! + slowShare * slow[1]!);
      jacobian[place + 2 * n] = scale2 * ((1 - fraction) * main[2]! + fraction * slow[2]!);
      jacobian[place + 3 * n] = scale2 * mainShare * main[3]!;
      jacobian[place + 4 * n] = scale * (slow[0]! - main[0]!);
      jacobian[place + 5 * n] = scale2 * slowShare * slow[3]!;
    }
  },
  area: (parameters, first) => parameters[first]!,
  mode(parameters, first) {
    const sigma = parameters[first + 2]!;
    const fraction = parameters[first + 4]!;
    const ends = [parameters[first + 3]!, parameters[first + 5]!].map((tau) =>
      emgFamily.mode([1, parameters[first + 1]!, sigma, tau], 0),
    );
    // Between the two apices one part rises and the other falls.
    let low = Math.min(...ends);
    let high = Math.max(...ends);
    const place = [0];
    const value = new Float64Array(1);
    const slopes = new Float64Array(6);
    const shape = [1, 0, sigma, parameters[first + 3]!, fraction, parameters[first + 5]!];
    for (let i = 0; i < 80; i++) {
      const middle = (low + high) / 2;
      place[0] = middle - parameters[first + 1]!;
      this.evaluate(place, 0, 1, shape, 0, value, slopes);
      if (slopes[1]! < 0) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  },
  moments(parameters, first) {
    const tau = parameters[first + 3]!;
    const fraction = parameters[first + 4]!;
    const slowTau = parameters[first + 5]!;
    const sigma = parameters[first + 2]!;
    const delay = (1 - fraction) * tau + fraction * slowTau;
    const a = tau - delay;
    const b = slowTau - delay;
    // About the common mean each part has variance sigma² + tau² and third moment 2 tau³.
    return {
      mean: parameters[first + 1]! + delay,
      variance: sigma * sigma + (1 - fraction) * (tau * tau + a * a) + fraction * (slowTau * slowTau + b * b),
      third:
        (1 - fraction) * (2 * tau * tau * tau + 3 * a * (sigma * sigma + tau * tau) + a * a * a) +
        fraction * (2 * slowTau * slowTau * slowTau + 3 * b * (sigma * sigma + slowTau * slowTau) + b * b * b),
    };
  },
};

/**
 * Value of a peak with a small slow tail.
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value; 0 at infinity.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite, sigma not above 0 or the
 *   fraction not from 0 to 1.
 *
 * @example
 * ```ts
 * const peak = { area: 1, mean: 5, sigma: 0.05, tau: 0.05, slowFraction: 0.5, slowTau: 0.1 };
 * emgWithSlowTail(5.1, peak); // => 3.822357053
 * ```
 *
 * @public
 */
export function emgWithSlowTail(x: number, shape: EmgWithSlowTailShape): number {
  return valueAt('emgWithSlowTail', emgWithSlowTailFamily, x, shape);
}
