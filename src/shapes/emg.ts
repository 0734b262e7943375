import { checkNumber, checkPositive, failOption } from '../core/index.js';
import { erfc, erfcx, exp, log } from '../numeric/index.js';

/**
 * An exponentially modified Gaussian: a Gaussian of standard deviation `sigma`
 * convolved with an exponential decay of time constant `tau`. Positive `tau`
 * tails, negative `tau` fronts, 0 is the Gaussian itself.
 *
 * @public
 */
export interface EmgShape {
  /** [y unit · x unit] Whole area; negative for a peak that points down. */
  readonly area: number;
  /** [x unit] Mean of the Gaussian part. The apex is elsewhere: {@link emgMode}. */
  readonly mean: number;
  /** [x unit] Standard deviation of the Gaussian part; above 0. */
  readonly sigma: number;
  /** [x unit] Time constant of the exponential part; any sign, or 0. */
  readonly tau: number;
}

const rootTwoPi = 2.5066282746310002;

/**
 * Value of an exponentially modified Gaussian, stable for every ratio of tau to
 * sigma and at every distance.
 *
 * With z = (sigma/tau - (x - mean)/sigma) / √2 the formula is chosen by z: the
 * exponential times erfc for z < 0, the Gaussian times erfcx up to 6.71e7, and
 * its limit for small tau above (Kalambet et al., J. Chemometrics 25 (2011)
 * 352-356; Delley, Anal. Chem. 57 (1985) 388). Only `+ - * /` and square root:
 * the same bits in every engine.
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value; relative error below 1e-13 where it is above 1e-30 of the height.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @example
 * ```ts
 * emg(5.1, { area: 1, mean: 5, sigma: 0.05, tau: 0.1 }); // => 3.890126348
 * ```
 *
 * @public
 */
export function emg(x: number, shape: EmgShape): number {
  checkEmg('emg', shape);
  const { u, a } = reduce(x, shape);
  // a - u > √2 · 6.71e7: the series of erfcx has one term left.
  if (a - u > 9.4893e7) return (shape.area * normalDensity(u)) / (shape.sigma * (1 - u / a));
  return (shape.area * tailWeight(u, a)) / Math.abs(shape.tau);
}

/**
 * Area of an exponentially modified Gaussian before a position; the area between
 * two limits is the difference of two of these.
 *
 * F(x) = area · (Φ((x - mean)/sigma) - tau · f(x)) with f the value for area 1.
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
export function emgAreaBefore(x: number, shape: EmgShape): number {
  checkEmg('emgAreaBefore', shape);
  const { u, a } = reduce(x, shape);
  const before = erfc(-u / Math.SQRT2) / 2;
  const delayed = a - u > 9.4893e7 ? normalDensity(u) / (a - u) : tailWeight(u, a);
  // In the mirrored frame of a fronting peak the part before x is the part after -x.
  return shape.area * (shape.tau < 0 ? 1 - (before - delayed) : before - delayed);
}

/**
 * Position of the apex of an exponentially modified Gaussian.
 *
 * There the value equals that of the Gaussian it was made from; the position is
 * mean + sigma²/tau - √2 sigma erfcx⁻¹(tau/sigma √(2/π)), and its power series for
 * |tau| ≤ 0.02 sigma, where that difference loses its digits.
 *
 * @param shape - The peak; `area` does not matter.
 *
 * @returns [x unit] The position, to 1e-12 sigma.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @public
 */
export function emgMode(shape: EmgShape): number {
  checkEmg('emgMode', shape);
  return shape.mean + shape.sigma * modeOffset(shape.tau / shape.sigma);
}

/**
 * Height of the apex of an exponentially modified Gaussian.
 *
 * @param shape - The peak; `mean` does not matter.
 *
 * @returns [y unit] The height, with the sign of `area`.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or sigma not above 0.
 *
 * @public
 */
export function emgHeight(shape: EmgShape): number {
  checkEmg('emgHeight', shape);
  return (shape.area * normalDensity(modeOffset(shape.tau / shape.sigma))) / shape.sigma;
}

/**
 * The exponentially modified Gaussian with a given apex position and height: what
 * a person reads off a chart, turned into the parameters of {@link emg}.
 *
 * @param apex - Position [x unit] and height [y unit] of the apex, sigma and tau [x unit].
 *
 * @returns The peak.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite, sigma is not above 0, or the
 *   area would exceed the range of numbers.
 *
 * @example
 * ```ts
 * const peak = emgFromApex({ position: 5, height: 20, sigma: 0.04, tau: 0.02 });
 * emgMode(peak); // => 5
 * emgHeight(peak); // => 20
 * ```
 *
 * @public
 */
export function emgFromApex(apex: {
  /** [x unit] Position of the apex. */
  readonly position: number;
  /** [y unit] Height of the apex. */
  readonly height: number;
  /** [x unit] Standard deviation of the Gaussian part. */
  readonly sigma: number;
  /** [x unit] Time constant of the exponential part. */
  readonly tau: number;
}): EmgShape {
  const { position, height, sigma, tau } = apex;
  const caller = 'emgFromApex';
  checkNumber(caller, 'position', position);
  checkNumber(caller, 'height', height);
  checkEmg(caller, { area: 0, mean: 0, sigma, tau });
  const offset = modeOffset(tau / sigma);
  const area = (height * sigma) / normalDensity(offset);
  if (!Number.isFinite(area)) failOption(caller, 'tau', 'small enough for a finite area', tau);
  return { area, mean: position - sigma * offset, sigma, tau };
}

/** Distance from the mean and sigma / tau, both in sigma, in the frame in which the peak tails. */
function reduce(x: number, { mean, sigma, tau }: EmgShape): { readonly u: number; readonly a: number } {
  // A limit far beyond every value keeps an infinite x out of the arithmetic.
  const u = Math.max(-1e150, Math.min(1e150, (x - mean) / sigma));
  return tau < 0 ? { u: -u, a: -sigma / tau } : { u, a: tau === 0 ? Infinity : sigma / tau };
}

/** tau times the value for area 1. */
function tailWeight(u: number, a: number): number {
  const z = (a - u) / Math.SQRT2;
  const half = (exp((-u * u) / 2) * erfcx(Math.abs(z))) / 2;
  return z < 0 ? exp(a * (a / 2 - u)) - half : half;
}

function normalDensity(u: number): number {
  return exp((-u * u) / 2) / rootTwoPi;
}

/** (apex - mean) / sigma for a ratio tau / sigma of either sign. */
function modeOffset(ratio: number): number {
  if (ratio < 0) return -modeOffset(-ratio);
  if (ratio <= 0.02) {
    const s = ratio * ratio;
    return ratio * (1 + s * (-1 + s * (4 + s * (-27 + s * 248))));
  }
  return 1 / ratio - Math.SQRT2 * erfcxInverse((ratio * 2) / rootTwoPi);
}

/** Newton's method, on 1 / erfcx where it is nearly straight (z ≥ 0), on its logarithm where it explodes. */
function erfcxInverse(y: number): number {
  const slope = 1.1283791670955126; // 2 / √π; erfcx' = 2 z erfcx - 2/√π
  let z = y <= 1 ? slope / (2 * y) : -Math.sqrt(log(y));
  for (let i = 0; i < 60; i++) {
    const value = erfcx(z);
    const excess = y <= 1 ? value / y - 1 : log(value / y);
    const step = (value * excess) / (2 * z * value - slope);
    z -= step;
    if (Math.abs(step) <= 1e-15 * (1 + Math.abs(z))) break;
  }
  return z;
}

function checkEmg(caller: string, { area, mean, sigma, tau }: EmgShape): void {
  checkNumber(caller, 'area', area);
  checkNumber(caller, 'mean', mean);
  checkPositive(caller, 'sigma', sigma);
  if (!(Math.abs(tau / sigma) <= 1e100)) failOption(caller, 'tau', 'a number of at most 1e100 sigma', tau);
}
