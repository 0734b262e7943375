import { log } from './log.js';
import { logOfShare } from './log1p.js';

const halfLogTwoPi = 0.91893853320467274178;

/**
 * Natural logarithm of the beta function of two positive arguments, to about
 * 1e-13 of max(1, value). Both are raised to 10 by B(a, b) = B(a + 1, b) (a + b) / a
 * and then put into Stirling's formula, whose large terms are cancelled on paper
 * so that digits are kept for large arguments.
 *
 * @see M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 6.1.40 and 6.2.2
 */
export function logBeta(a: number, b: number): number {
  let factor = 1;
  for (; a < 10; a++) factor *= (a + b) / a;
  for (; b < 10; b++) factor *= (a + b) / b;
  const sum = a + b;
  return (
    log(factor) +
    halfLogTwoPi +
    (a - 0.5) * logOfShare(a / sum, b / sum) +
    (b - 0.5) * logOfShare(b / sum, a / sum) -
    0.5 * log(sum) +
    stirlingRest(a) +
    stirlingRest(b) -
    stirlingRest(sum)
  );
}

/** What Stirling's formula lacks, for x of at least 10 to below 1e-16 (Abramowitz and Stegun, 6.1.41). */
function stirlingRest(x: number): number {
  const z = 1 / (x * x);
  return (1 / 12 - z * (1 / 360 - z * (1 / 1260 - z * (1 / 1680 - z * (1 / 1188 - z * (691 / 360360 - z / 156)))))) / x;
}
