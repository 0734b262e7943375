import { exp } from '../numeric/index.js';
import { refuse, type PeakFamily } from './family.js';
import { valueAt } from './value-at.js';

/**
 * A Gaussian whose sigma is a polynomial of the distance from the apex.
 *
 * @public
 */
export interface PolynomialGaussianShape {
  /** [y unit] Height of the apex. */
  readonly height: number;
  /** [x unit] Position of the apex. */
  readonly centre: number;
  /** [x unit] Sigma at the apex; above 0. */
  readonly sigma: number;
  /** [-] Change of sigma with x; above 0 tails. */
  readonly slope: number;
  /** [1 / x unit] Coefficient of the square of the distance in sigma. */
  readonly curvature: number;
}

/** Sigma follows its polynomial up to this many sigma from the apex, and stays above this part of itself. */
const reach = 5;
const floor = 1 / 4;

/**
 * The polynomially modified Gaussian for a fit: height, centre, sigma, slope,
 * curvature.
 *
 * height · exp(-(x / s)² / 2) with s = sigma + slope x + curvature x² about the
 * apex. The polynomial has no meaning far out, where s would reach 0 or grow as
 * fast as x and the tail never end: beyond 5 sigma s keeps its value there, and
 * nowhere is it below a quarter of sigma (common practice, no source).
 *
 * Source: Torres-Lapasió et al., Anal. Chem. 69 (1997) 3822-3831 (cited from memory).
 */
export const polynomialGaussianFamily: PeakFamily = {
  name: 'polynomial-gaussian',
  parameters: [
    { name: 'height', unit: 'y', domain: 'any' },
    { name: 'centre', unit: 'x', domain: 'any' },
    { name: 'sigma', unit: 'x', domain: 'above 0' },
    { name: 'slope', unit: '-', domain: 'any' },
    { name: 'curvature', unit: '1 / x', domain: 'any' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const height = parameters[first]!;
    const centre = parameters[first + 1]!;
    const sigma = parameters[first + 2]!;
    const slope = parameters[first + 3]!;
    const curvature = parameters[first + 4]!;
    if (!(sigma > 0)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    const end = reach * sigma;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const x = time[i]! - centre;
      const near = x > end ? end : x < -end ? -end : x;
      const wanted = sigma + near * (slope + near * curvature);
      const low = !(wanted > floor * sigma);
      const s = low ? floor * sigma : wanted;
      const u = x / s;
      const unit = exp((-u * u) / 2);
      const y = height * unit;
      value[i] = value[i]! + y;
      if (jacobian === undefined) continue;
      const steep = unit === 0 ? 0 : (y * u) / s;
      const byS = unit === 0 ? 0 : steep * u;
      const growth = low ? 0 : slope + 2 * curvature * near;
      const moved = near === x;
      jacobian[place] = unit;
      jacobian[place + n] = moved ? steep - byS * growth : steep;
      jacobian[place + 2 * n] = low ? byS * floor : moved ? byS : byS * (1 + (near / sigma) * growth);
      jacobian[place + 3 * n] = low ? 0 : byS * near;
      jacobian[place + 4 * n] = low ? 0 : byS * near * near;
    }
  },
  /** Gauss-Legendre with 5 points on 800 panels as far out as the widest sigma reaches; to 1e-9 of the area. */
  area(parameters, first) {
    const sigma = parameters[first + 2]!;
    const slope = Math.abs(parameters[first + 3]!);
    const curvature = Math.abs(parameters[first + 4]!);
    const end = reach * sigma;
    const widest = sigma + end * (slope + end * curvature);
    const shape = [parameters[first]!, 0, sigma, parameters[first + 3]!, parameters[first + 4]!];
    const places = new Float64Array(10);
    const values = new Float64Array(10);
    let area = 0;
    // Up to 5 sigma, and beyond it in units of the widest sigma, on both sides.
    for (const [from, to] of [
      [0, end],
      [end, end + 9 * widest],
    ] as const) {
      const half = (to - from) / 400 / 2;
      for (let k = 0; k < 400; k++) {
        const middle = from + (2 * k + 1) * half;
        for (let j = 0; j < 5; j++) {
          places[j] = middle + half * nodes[j]!;
          places[5 + j] = -places[j]!;
        }
        values.fill(0);
        this.evaluate(places, 0, 10, shape, 0, values);
        for (let j = 0; j < 5; j++) area += half * weights[j]! * (values[j]! + values[5 + j]!);
      }
    }
    return area;
  },
  mode: (parameters, first) => parameters[first + 1]!,
};

// Gauss-Legendre quadrature with 5 points: Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4.
const nodes: readonly number[] = [-0.906179845938664, -0.5384693101056831, 0, 0.5384693101056831, 0.906179845938664];
const weights: readonly number[] = [
  0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891,
];

/**
 * Value of a polynomially modified Gaussian.
 *
 * Source: Torres-Lapasió et al., Anal. Chem. 69 (1997) 3822-3831 (cited from
 * memory). Beyond 5 sigma from the apex sigma keeps its value there, and it is
 * never below a quarter of that at the apex.
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
 * polynomialGaussian(5.1, { height: 1, centre: 5, sigma: 0.05, slope: 0.2, curvature: 0 }); // => 0.3604477886
 * ```
 *
 * @public
 */
export function polynomialGaussian(x: number, shape: PolynomialGaussianShape): number {
  return valueAt('polynomialGaussian', polynomialGaussianFamily, x, shape);
}
