import { exp } from './exp.js';
import { logBeta } from './log-beta.js';
import { logOfShare } from './log1p.js';

/**
 * Regularised incomplete beta function I_x(a, b), the probability that a beta
 * variable stays below x, for x, y >= 0 and a, b > 0; relative accuracy about
 * 1e-13 on the smaller of the two tails. `y` is 1 - x, given because it is often
 * known better than the subtraction would give it.
 *
 * By the continued fraction of A. R. DiDonato and A. H. Morris (1992), ACM Trans.
 * Math. Softw. 18, 360-373 (doi:10.1145/131766.131776), the even part of 8.17.22
 * in the NIST Digital Library of Mathematical Functions, evaluated by the
 * modified Lentz method.
 */
export function incompleteBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return 0;
  // below the mean the fraction converges fast
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(y, x, b, a);
  // built from y where that is the small one, so nothing cancels for large a
  const lambda = x < y ? a - (a + b) * x : (a + b) * y - b;
  let c = (a * (lambda + 1)) / (a + 1);
  let d = 0;
  let value = c;
  // of the order of sqrt(max(a, b)) terms are needed
  const limit = 200 + 20 * Math.sqrt(Math.max(a, b));
  for (let n = 1; n <= limit; n++) {
    const odd = a + 2 * n - 1;
    const alpha = ((a + n - 1) / odd) * x * (((a + b + n - 1) / odd) * x) * n * (b - n);
    const beta = n + (n * (b - n) * x) / odd + ((a + n) * (lambda + 1 + n * (1 + y))) / (odd + 2);
    d = 1 / (beta + alpha * d);
    c = beta + alpha / c;
    value *= c * d;
    if (Math.abs(c * d - 1) < 2e-16) break;
  }
  return exp(a * logOfShare(x, y) + b * logOfShare(y, x) - logBeta(a, b)) / value;
}
