import { incompleteBeta } from './incomplete-beta.js';

/**
 * Probability that an F variable with d1 and d2 degrees of freedom (both
 * positive and finite) exceeds f >= 0; relative accuracy about 1e-12.
 *
 * @see M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.6.2
 */
export function fUpperTail(f: number, d1: number, d2: number): number {
  const ratio = (d1 / d2) * f;
  return incompleteBeta(1 / (1 + ratio), ratio === Infinity ? 1 : ratio / (1 + ratio), d2 / 2, d1 / 2);
}
