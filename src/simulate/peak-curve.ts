import {
  emg,
  emgAreaBefore,
  emgFromApex,
  emgHeight,
  emgWithSlowTailFamily,
  haarhoffVanDerLindeFamily,
  logNormalFamily,
  polynomialGaussianFamily,
  splitGaussianFamily,
  type PeakFamily,
} from '../shapes/index.js';
import type { PeakRecipe } from './peak-recipe.js';

/** A peak of a recipe as a function of time. */
export interface PeakCurve {
  /** [min] Its apex. */
  readonly position: number;
  /** [signal unit] Its height, with its sign. */
  readonly height: number;
  /** [signal unit s] Its whole area, with its sign. */
  readonly area: number;
  /** [min] Scale of its width. */
  readonly sigma: number;
  /** [min] Outside these it is below 1e-40 of its height. */
  readonly from: number;
  readonly to: number;
  /** [signal unit] */
  readonly value: (time: number) => number;
  /** [-] The value of the same peak of height 1. */
  readonly unit: (time: number) => number;
  /** [signal unit s] */
  readonly areaBefore: (time: number) => number;
}

/** The peak of a recipe that was checked. */
export function peakCurve(peak: PeakRecipe): PeakCurve {
  const { shape, tau = 0, sigma, sigmaAfter, skew, overload, slowFraction, slowTau, slope, curvature = 0 } = peak;
  switch (shape) {
    case 'gaussian':
    case 'emg':
      return emgCurve(peak);
    case 'split-gaussian':
      return familyCurve(peak, splitGaussianFamily, [sigma, sigmaAfter!]);
    case 'log-normal':
      return familyCurve(peak, logNormalFamily, [sigma * widthOfSigma, skew!]);
    case 'haarhoff-van-der-linde':
      return familyCurve(peak, haarhoffVanDerLindeFamily, [sigma, overload!]);
    case 'emg-with-slow-tail':
      return familyCurve(peak, emgWithSlowTailFamily, [sigma, tau, slowFraction!, slowTau!]);
    case 'polynomial-gaussian':
      return familyCurve(peak, polynomialGaussianFamily, [sigma, slope!, curvature]);
  }
}

/** √(8 ln 2): width at half height of a Gaussian over its sigma. */
const widthOfSigma = 2.3548200450309493;

// 15 sigma and 100 time constants of the tail from the mean a peak is below 1e-40 of its height.
const reach = 15;
const decay = 100;

function emgCurve(peak: PeakRecipe): PeakCurve {
  const { retentionTime, sigma, tau = 0 } = peak;
  const height = peak.height ?? emgHeight({ area: peak.area! / 60, mean: 0, sigma, tau });
  const curve = emgFromApex({ position: retentionTime, height, sigma, tau });
  const one = emgFromApex({ position: retentionTime, height: 1, sigma, tau });
  return {
    position: retentionTime,
    height,
    area: peak.area ?? 60 * curve.area,
    sigma,
    from: curve.mean - reach * sigma + decay * Math.min(tau, 0),
    to: curve.mean + reach * sigma + decay * Math.max(tau, 0),
    value: (t) => emg(t, curve),
    unit: (t) => emg(t, one),
    areaBefore: (t) => 60 * emgAreaBefore(t, curve),
  };
}

/** A family's peak of size 1 at 0 says where the apex is and how height and area are related. */
function familyCurve(
  { retentionTime: position, sigma, ...given }: PeakRecipe,
  family: PeakFamily,
  rest: readonly number[],
): PeakCurve {
  // prettier-ignore
  const unit = [1, 0, ...rest];
  const place = [0];
  const out = new Float64Array(1);
  const unitAt = (x: number): number => {
    place[0] = x;
    out[0] = 0;
    family.evaluate(place, 0, 1, unit, 0, out);
    return out[0];
  };
  const mode = family.mode(unit, 0);
  const top = unitAt(mode);
  const unitArea = family.area(unit, 0);
  const height = given.height ?? ((given.area! / 60) * top) / unitArea;
  const area = given.area ?? ((60 * height) / top) * unitArea;
  /** [min] Distance from the apex beyond which the peak stays below a share of its height. */
  const distance = (side: 1 | -1, share: number): number => {
    let away = sigma;
    while (unitAt(mode + side * away) > share * top) away *= 1.25;
    return away;
  };
  const value = (t: number): number => (height / top) * unitAt(t - position + mode);
  return {
    position,
    height,
    area,
    sigma,
    from: position - distance(-1, 1e-40),
    to: position + distance(1, 1e-40),
    value,
    unit: (t) => unitAt(t - position + mode) / top,
    areaBefore: (t) => {
      const side = t < position ? -1 : 1;
      const beyond = 60 * areaOutward(value, t, position + side * distance(side, 1e-15), side, sigma);
      return side < 0 ? beyond : area - beyond;
    },
  };
}

/** [-] Steps of each panel of an integral, and how much longer the next panel is. */
const steps = 100;
const growth = 1.15;

/** The part of a flank from a place outward, by Simpson's rule in panels that grow as the tail flattens: to 1e-7. */
function areaOutward(value: (t: number) => number, start: number, end: number, side: 1 | -1, sigma: number): number {
  let sum = 0;
  let width = sigma;
  for (let from = start; side * (end - from) > 0; from += side * width, width *= growth) {
    const h = width / steps;
    let panel = value(from) + value(from + side * width);
    for (let i = 1; i < steps; i++) panel += (i % 2 === 1 ? 4 : 2) * value(from + side * i * h);
    sum += (panel * h) / 3;
  }
  return sum;
}
