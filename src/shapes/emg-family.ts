import { erfcx, exp } from '../numeric/index.js';
import { emgMode } from './emg.js';
import { refuse, rootTwoPi, type PeakFamily } from './family.js';

const rootHalfPi = rootTwoPi / 2;

/**
 * The exponentially modified Gaussian of area 1 and sigma 1 about 0 and its
 * derivatives, in the frame in which it tails. With a = 1 / ratio, y = a - u and
 * I_n(y) the integral of sⁿ/n! exp(-ys - s²/2) over s > 0,
 *
 *   value = a φ(u) I_0,  slope = a φ (a I_1 - ...) and so on,
 *
 * where I_0 is the ratio of Mills, I_1 = 1 - y I_0 and 2 I_2 = I_0 - y I_1. These
 * differences lose every digit as y grows (tau → 0); there the ratios I_n / I_(n-1)
 * come from their continued fraction (Miller's backward recurrence, W. Gautschi,
 * SIAM Review 9 (1967) 24-82), written in 1/y so that nothing is left over at
 * tau 0 but the Gaussian and its derivatives.
 *
 * @param u - [-] (x - mean) / sigma, the sign turned for a fronting peak.
 * @param ratio - [-] |tau| / sigma, 0 allowed.
 * @param out - Takes value, first and second derivative by u, and derivative by the ratio.
 */
export function unitEmg(u: number, ratio: number, out: Float64Array): void {
  const room = 1 - u * ratio; // y · ratio
  if (room < -9 * ratio && ratio < 100) {
    tailOf(u, 1 / ratio, out);
    return;
  }
  const g = exp((-u * u) / 2) / rootTwoPi;
  if (room > 5 * ratio) {
    if (g === 0) {
      out.fill(0);
      return;
    }
    const c = 1 / room;
    const eta = ratio * c;
    const s = eta * eta;
    // The fraction is carried as above / below: one division in the end. So many terms leave 4e-16.
    let above = 1;
    let below = 1;
    for (let term = 6 + Math.floor(115 * eta); term > 2; term--) {
      const next = below + term * s * above;
      above = below;
      below = next;
    }
    const r2 = above / below;
    const r1 = 1 / (1 + 2 * s * r2);
    const m = c / (1 + s * r1);
    const q = m * r1 * c;
    out[0] = g * m;
    out[1] = g * (ratio * q - u * m);
    out[2] = g * (u * (u * m - ratio * q) - q);
    out[3] = g * q * (u - 2 * eta * r2);
    return;
  }
  const a = 1 / ratio;
  const y = a - u;
  const half = g * rootHalfPi * erfcx(Math.abs(y) / Math.SQRT2);
  const m = y < 0 ? exp(a * (a / 2 - u)) - half : half;
  if (m === 0) {
    out.fill(0);
    return;
  }
  out[0] = a * m;
  out[1] = a * (g - a * m);
  out[2] = a * (a * (a * m) - (u + a) * g);
  out[3] = a * (a * (a * g - (a * y + 1) * m));
}

/** Beyond 9 sigma of the Gaussian part only the exponential is left: the rest is below 1e-16 of it. */
function tailOf(u: number, a: number, out: Float64Array): void {
  const value = a * exp(a * (a / 2 - u));
  out[0] = value;
  out[1] = -a * value;
  out[2] = a * a * value;
  out[3] = -a * (a * (a - u) + 1) * value;
  if (value === 0) out[3] = 0;
}

/**
 * The exponentially modified Gaussian for a fit: area, mean and sigma of the
 * Gaussian part, tau of either sign. Its derivative by sigma is sigma times the
 * second derivative (the equation of heat conduction).
 *
 * Source of the cases: Kalambet et al., J. Chemometrics 25 (2011) 352-356; the
 * moments: mean + tau, sigma² + tau², 2 tau³ (common practice, no source).
 */
export const emgFamily: PeakFamily = {
  name: 'emg',
  parameters: [
    { name: 'area', unit: 'y x', domain: 'any' },
    { name: 'mean', unit: 'x', domain: 'any' },
    { name: 'sigma', unit: 'x', domain: 'above 0' },
    { name: 'tau', unit: 'x', domain: 'any' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const area = parameters[first]!;
    const mean = parameters[first + 1]!;
    const sigma = parameters[first + 2]!;
    const tau = parameters[first + 3]!;
    const ratio = Math.abs(tau) / sigma;
    if (!(sigma > 0 && ratio <= 1e100)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    const unit = new Float64Array(4);
    const perSigma = (tau < 0 ? -1 : 1) / sigma;
    const scale = area / sigma;
    const scale2 = scale / sigma;
    const turned = scale * perSigma;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      unitEmg(clipped((time[i]! - mean) * perSigma), ratio, unit);
      value[i] = value[i]! + scale * unit[0]!;
      if (jacobian === undefined) continue;
      jacobian[place] = unit[0]! / sigma;
      jacobian[place + n] = -turned * unit[1]!;
      jacobian[place + 2 * n] = scale2 * unit[2]!;
      jacobian[place + 3 * n] = turned * unit[3]!;
    }
  },
  area: (parameters, first) => parameters[first]!,
  mode: (parameters, first) =>
    emgMode({
      area: 1,
      mean: parameters[first + 1]!,
      sigma: parameters[first + 2]!,
      tau: parameters[first + 3]!,
    }),
  moments(parameters, first) {
    const sigma = parameters[first + 2]!;
    const tau = parameters[first + 3]!;
    return {
      mean: parameters[first + 1]! + tau,
      variance: sigma * sigma + tau * tau,
      third: 2 * tau * tau * tau,
    };
  },
};

/** A limit beyond every value keeps squares finite. */
export function clipped(u: number): number {
  return u > 1e100 ? 1e100 : u < -1e100 ? -1e100 : u;
}
