import { exp } from './exp.js';
import { log } from './log.js';
import { log1p } from './log1p.js';
import { logBeta } from './log-gamma.js';

/**
 * Regularised incomplete beta function I_x(a, b), the probability that a beta
 * variable stays below x, for 0 <= x <= 1 and a, b > 0; relative accuracy about
 * 1e-13 on the smaller of the two tails. Give `complement` = 1 - x when it is
 * known better than the subtraction would give it.
 *
 * By the continued fraction (NIST Digital Library of Mathematical Functions,
 * 8.17.22), evaluated by the modified Lentz method.
 */
export function incompleteBeta(x: number, a: number, b: number, complement: number = 1 - x): number {
  if (x <= 0) return 0;
  if (complement <= 0) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - lowerTail(complement, x, b, a);
  return lowerTail(x, complement, a, b);
}

/** 1 - I_x(a, b), without the subtraction where it would lose digits. */
export function incompleteBetaUpper(x: number, a: number, b: number, complement: number = 1 - x): number {
  return incompleteBeta(complement, b, a, x);
}

/** The fraction, for x below the mean, where it converges fast. */
function lowerTail(x: number, complement: number, a: number, b: number): number {
  const logX = x < 0.5 ? log(x) : log1p(-complement);
  const logComplement = complement < 0.5 ? log(complement) : log1p(-x);
  const front = exp(a * logX + b * logComplement - logBeta(a, b)) / a;
  const tiny = 1e-300;
  let c = 1;
  let d = guard(1 - ((a + b) * x) / (a + 1), tiny);
  d = 1 / d;
  let fraction = d;
  // of the order of sqrt(max(a, b)) terms are needed
  const limit = 200 + 20 * Math.sqrt(Math.max(a, b));
  for (let m = 1; m <= limit; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d, tiny);
    c = guard(1 + even / c, tiny);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d, tiny);
    c = guard(1 + odd / c, tiny);
    const change = d * c;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return front * fraction;
}

function guard(value: number, tiny: number): number {
  return Math.abs(value) < tiny ? tiny : value;
}
