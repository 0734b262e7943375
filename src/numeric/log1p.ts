import { log } from './log.js';

/**
 * Natural logarithm of 1 + x without losing the digits of a small x, to a few
 * units of the last place: the rounding of 1 + x is taken out by its own ratio.
 *
 * @see W. Kahan, as quoted in N. J. Higham (2002), Accuracy and Stability of
 *   Numerical Algorithms, section 1.14.1
 */
export function log1p(x: number): number {
  const sum = 1 + x;
  const taken = sum - 1;
  return taken === 0 ? x : log(sum) * (x / taken);
}

/** Logarithm of a share of 1, from whichever of it and the `rest` to 1 is the smaller, better known one. */
export function logOfShare(share: number, rest: number): number {
  return share < rest ? log(share) : log1p(-rest);
}
