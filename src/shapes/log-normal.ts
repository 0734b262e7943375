import { exp, expm1, log, log1p } from '../numeric/index.js';
import { refuse, type PeakFamily } from './family.js';
import { valueAt } from './value-at.js';

/**
 * A log-normal peak in the form of Fraser and Suzuki.
 *
 * @public
 */
export interface LogNormalShape {
  /** [y unit] Height of the apex. */
  readonly height: number;
  /** [x unit] Position of the apex. */
  readonly centre: number;
  /** [x unit] Width at half height of the Gaussian it becomes at skew 0; above 0. */
  readonly width: number;
  /** [-] Natural logarithm of the distance after the apex to that before it, at half height; negative fronts. */
  readonly skew: number;
}

/**
 * The log-normal for a fit: height, centre, width, skew.
 *
 * height · exp(-ln 2 · (ln(1 + 2 skew (x - centre) / width) / skew)²), 0 where the
 * inner argument is not above 0. Width at half height is width sinh(skew) / skew.
 *
 * Source: Fraser and Suzuki, Anal. Chem. 41 (1969) 37-39 (cited from memory);
 * area and moments are those of the log-normal distribution.
 */
export const logNormalFamily: PeakFamily = {
  name: 'log-normal',
  parameters: [
    { name: 'height', unit: 'y', domain: 'any' },
    { name: 'centre', unit: 'x', domain: 'any' },
    { name: 'width', unit: 'x', domain: 'above 0' },
    { name: 'skew', unit: '-', domain: 'any' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const height = parameters[first]!;
    const centre = parameters[first + 1]!;
    const width = parameters[first + 2]!;
    const skew = parameters[first + 3]!;
    if (!(width > 0)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const q = (2 * (time[i]! - centre)) / width;
      const v = skew * q;
      const s = v > -1 ? q * log1pRatio(v) : Infinity;
      const unit = exp(-Math.LN2 * s * s);
      const y = height * unit;
      value[i] = value[i]! + y;
      if (jacobian === undefined) continue;
      const byS = unit === 0 ? 0 : -2 * Math.LN2 * s * y;
      const slope = unit === 0 ? 0 : byS / (1 + v) / width;
      jacobian[place] = unit;
      jacobian[place + n] = -2 * slope;
      jacobian[place + 2 * n] = unit === 0 ? 0 : -q * slope;
      jacobian[place + 3 * n] = unit === 0 ? 0 : byS * q * q * log1pRatioSlope(v);
    }
  },
  area(parameters, first) {
    const skew = parameters[first + 3]!;
    // √(π / ln 2) / 2
    return parameters[first]! * parameters[first + 2]! * 1.0644670194312262 * exp((skew * skew) / (4 * Math.LN2));
  },
  mode: (parameters, first) => parameters[first + 1]!,
  width(parameters, first, fraction) {
    const skew = parameters[first + 3]!;
    const half = parameters[first + 2]! / 2;
    const units = Math.sqrt(-log(fraction) / Math.LN2);
    const before = half * -expm1Ratio(-skew * units, skew, -units);
    const after = half * expm1Ratio(skew * units, skew, units);
    return { before, after, width: before + after };
  },
  moments(parameters, first) {
    const skew = parameters[first + 3]!;
    const half = parameters[first + 2]! / 2;
    const b = (skew * skew) / (2 * Math.LN2);
    const spread = expm1(b);
    // expm1(b) / skew² tends to 1 / (2 ln 2)
    const perSkew = b === 0 ? 1 / (2 * Math.LN2) : spread / (skew * skew);
    const variance = half * half * exp(3 * b) * perSkew;
    return {
      mean: parameters[first + 1]! + half * expm1Ratio(1.5 * b, skew, (1.5 * skew) / (2 * Math.LN2)),
      variance,
      third: variance * half * exp(1.5 * b) * (skew === 0 ? 0 : (spread * (spread + 3)) / skew),
    };
  },
};

/** ln(1 + v) / v */
function log1pRatio(v: number): number {
  return Math.abs(v) < 1e-9 ? 1 - v / 2 : log1p(v) / v;
}

/** Derivative of ln(1 + v) / v: by its series where the difference loses its digits. */
function log1pRatioSlope(v: number): number {
  if (Math.abs(v) > 0.1) return (v / (1 + v) - log1p(v)) / (v * v);
  let sum = 0;
  for (let k = 17; k >= 1; k--) sum = k / (k + 1) - v * sum;
  return -sum;
}

/** expm1(exponent) / skew, with its limit for a skew of 0. */
function expm1Ratio(exponent: number, skew: number, limit: number): number {
  return skew === 0 ? limit : expm1(exponent) / skew;
}

/**
 * Value of a log-normal peak.
 *
 * Source: Fraser and Suzuki, Anal. Chem. 41 (1969) 37-39 (cited from memory).
 *
 * @param x - [x unit] Where.
 * @param shape - The peak.
 *
 * @returns [y unit] The value; 0 at infinity and beyond the end of the steep side.
 *
 * @throws {@link PeakwrightError} `option-invalid` when a parameter is not finite or width not above 0.
 *
 * @example
 * ```ts
 * logNormal(5.05, { height: 1, centre: 5, width: 0.12, skew: 0.3 }); // => 0.681480344
 * ```
 *
 * @public
 */
export function logNormal(x: number, shape: LogNormalShape): number {
  return valueAt('logNormal', logNormalFamily, x, shape);
}
