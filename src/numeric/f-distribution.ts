import { exp } from './exp.js';
import { log } from './log.js';
import { log1p } from './log1p.js';
import { incompleteBeta } from './incomplete-beta.js';
import { logBeta } from './log-gamma.js';
import { searchQuantile } from './quantile-search.js';

/**
 * Probability that an F variable with d1 and d2 degrees of freedom (both
 * positive and finite) exceeds f; relative accuracy about 1e-13.
 *
 * @see M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.6.2
 */
export function fUpperTail(f: number, d1: number, d2: number): number {
  if (f <= 0) return 1;
  const ratio = (d1 / d2) * f;
  if (ratio === Infinity) return 0;
  return incompleteBeta(1 / (1 + ratio), d2 / 2, d1 / 2, ratio / (1 + ratio));
}

/** The value an F variable exceeds with the given probability, 0 < probability < 1; about 1e-13. */
export function fUpperQuantile(probability: number, d1: number, d2: number): number {
  const a = d1 / 2;
  const b = d2 / 2;
  const ratio = d1 / d2;
  const logFactor = a * log(ratio) - logBeta(a, b);
  const density = (f: number): number => exp(logFactor + (a - 1) * log(f) - (a + b) * log1p(ratio * f));
  return searchQuantile(probability, 0, (f) => fUpperTail(f, d1, d2), density);
}
