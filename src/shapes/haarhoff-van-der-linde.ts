import { erfc, erfcx, exp, expm1 } from '../numeric/index.js';
import { clipped } from './emg-family.js';
import { refuse, rootTwoPi, type PeakFamily } from './family.js';
import { valueAt } from './value-at.js';

/**
 * A peak of an overloaded column.
 *
 * @public
 */
export interface HaarhoffVanDerLindeShape {
  /** [y unit · x unit] Whole area. */
  readonly area: number;
  /** [x unit] Where the peak of a vanishing amount would stand. */
  readonly centre: number;
  /** [x unit] Standard deviation of the peak of a vanishing amount; above 0. */
  readonly sigma: number;
  /** [-] Overload: steep front and apex moved to lower x above 0, the mirror image below 0, the Gaussian at 0. */
  readonly overload: number;
}

/**
 * The peak of Haarhoff and Van der Linde for a fit: area, centre, sigma, overload.
 *
 * The overload is the exponent a1 a3 / a2² of the literature, which makes it free
 * of units and of the position: with u = (x - centre) / sigma and B = K / (exp(K) - 1),
 *
 *   y = area / sigma · φ(u) / (B + K Φ(u)),
 *
 * exact area, the Gaussian at K = 0, and for K < 0 the image of -K at -u.
 *
 * Source: Haarhoff and Van der Linde, Anal. Chem. 38 (1966) 573-582 (cited from memory).
 */
export const haarhoffVanDerLindeFamily: PeakFamily = {
  name: 'haarhoff-van-der-linde',
  parameters: [
    { name: 'area', unit: 'y x', domain: 'any' },
    { name: 'centre', unit: 'x', domain: 'any' },
    { name: 'sigma', unit: 'x', domain: 'above 0' },
    { name: 'overload', unit: '-', domain: 'any' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const area = parameters[first]!;
    const centre = parameters[first + 1]!;
    const sigma = parameters[first + 2]!;
    const given = parameters[first + 3]!;
    if (!(sigma > 0 && Math.abs(given) <= 1e100)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    const k = Math.abs(given);
    const side = given < 0 ? -1 : 1;
    const unit = new Float64Array(2);
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const u = clipped((side * (time[i]! - centre)) / sigma);
      unitPeak(u, k, unit);
      const r = unit[0]!;
      const y = (area / sigma) * r;
      value[i] = value[i]! + y;
      if (jacobian === undefined) continue;
      const slope = r === 0 ? 0 : (y * (u + k * r)) / sigma;
      jacobian[place] = r / sigma;
      jacobian[place + n] = side * slope;
      jacobian[place + 2 * n] = r === 0 ? 0 : slope * u - y / sigma;
      jacobian[place + 3 * n] = (side * area * unit[1]!) / sigma;
    }
  },
  area: (parameters, first) => parameters[first]!,
  mode(parameters, first) {
    const given = parameters[first + 3]!;
    const k = Math.abs(given);
    const unit = new Float64Array(2);
    // The slope is -(u + K r(u)) times the value: below 0 at 0, and above 0 far enough before.
    let low = -Math.sqrt(2 * k) - 10;
    let high = 0;
    for (let i = 0; i < 100; i++) {
      const middle = (low + high) / 2;
      unitPeak(middle, k, unit);
      if (middle + k * unit[0]! < 0) low = middle;
      else high = middle;
    }
    const u = k === 0 ? 0 : (low + high) / 2;
    return parameters[first + 1]! + parameters[first + 2]! * (given < 0 ? -u : u);
  },
};

/** φ / (B + K Φ) and its derivative by K, for K ≥ 0, with φ and Φ of u. */
function unitPeak(u: number, k: number, out: Float64Array): void {
  const b = bernoulli(k);
  if (u > -8) {
    const g = exp((-u * u) / 2) / rootTwoPi;
    const below = erfc(-u / Math.SQRT2) / 2;
    const r = g / (b + k * below);
    out[0] = r;
    out[1] = g === 0 ? 0 : ((-r * r) / g) * (bernoulliSlope(k) + below);
    return;
  }
  // Divided by φ, which vanishes: Φ / φ is the ratio of Mills, B / φ may pass every limit.
  const mills = (rootTwoPi / 2) * erfcx(-u / Math.SQRT2);
  const far = (u * u) / 2;
  const scaled = k < 300 ? b * rootTwoPi * exp(far) : k * rootTwoPi * exp(far - k);
  if (!(scaled < 1e150)) {
    out[0] = 0;
    out[1] = 0;
    return;
  }
  const r = 1 / (scaled + k * mills);
  const slope = k < 300 ? bernoulliSlope(k) * rootTwoPi * exp(far) : ((1 - k) / k) * scaled;
  out[0] = r;
  out[1] = -r * r * (slope + mills);
}

/** k / (exp(k) - 1) */
function bernoulli(k: number): number {
  return k === 0 ? 1 : k > 700 ? k * exp(-k) : k / expm1(k);
}

/** Derivative of k / (exp(k) - 1); below 0.5 the series of the Bernoulli numbers. */
function bernoulliSlope(k: number): number {
  if (k > 300) return (1 - k) * exp(-k);
  if (k > 0.5) {
    const e = expm1(k);
    return (e - k * (e + 1)) / (e * e);
  }
  const s = k * k;
  return (
    -1 / 2 +
    k * (1 / 6 + s * (-1 / 180 + s * (1 / 5040 + s * (-1 / 151200 + s * (1 / 4790016 + s * (-691 / 108972864000))))))
  );
}

/**
 * Value of the peak of an overloaded column.
 *
 * Source: Haarhoff and Van der Linde, Anal. Chem. 38 (1966) 573-582 (cited from
 * memory); `overload` is their a1 a3 / a2².
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value; 0 at infinity.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @example
 * ```ts
 * haarhoffVanDerLinde(5, { area: 1, centre: 5, sigma: 0.05, overload: 2 }); // => 6.0766421863
 * ```
 *
 * @public
 */
export function haarhoffVanDerLinde(x: number, shape: HaarhoffVanDerLindeShape): number {
  return valueAt('haarhoffVanDerLinde', haarhoffVanDerLindeFamily, x, shape);
}
