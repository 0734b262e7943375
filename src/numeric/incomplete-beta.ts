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
 * By the continued fraction of A. R. DiDonato and A. H. Morris (1992), ACM Trans.
 * Math. Softw. 18, 360-373 (doi:10.1145/131766.131776), the even part of 8.17.22
 * in the NIST Digital Library of Mathematical Functions, evaluated by the
 * modified Lentz method.
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

/**
 * The fraction for x below the mean, where it converges fast. Its terms are
 * built from 1 - x where that is the small one, so nothing cancels for large a.
 */
function lowerTail(x: number, y: number, a: number, b: number): number {
  const logX = x < 0.5 ? log(x) : log1p(-y);
  const logY = y < 0.5 ? log(y) : log1p(-x);
  const front = exp(a * logX + b * logY - logBeta(a, b));
  const lambda = x < y ? a - (a + b) * x : (a + b) * y - b;
  const tiny = 1e-300;
  let value = guard((a * (lambda + 1)) / (a + 1), tiny);
  let c = value;
  let d = 0;
  // of the order of sqrt(max(a, b)) terms are needed
  const limit = 200 + 20 * Math.sqrt(Math.max(a, b));
  for (let n = 1; n <= limit; n++) {
    const odd = a + 2 * n - 1;
    const alpha = ((a + n - 1) / odd) * x * (((a + b + n - 1) / odd) * x) * n * (b - n);
    const beta = n + (n * (b - n) * x) / odd + ((a + n) * (lambda + 1 + n * (1 + y))) / (odd + 2);
    d = 1 / guard(beta + alpha * d, tiny);
    c = guard(beta + alpha / c, tiny);
    const change = c * d;
    value *= change;
    if (Math.abs(change - 1) < 2e-16) break;
  }
  return front / value;
}

function guard(value: number, tiny: number): number {
  return Math.abs(value) < tiny ? tiny : value;
}
