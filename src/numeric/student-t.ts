import { exp } from './exp.js';
import { log } from './log.js';
import { log1p } from './log1p.js';
import { incompleteBeta } from './incomplete-beta.js';
import { logBeta } from './log-gamma.js';
import { normalUpperQuantile, normalUpperTail } from './normal.js';
import { searchQuantile } from './quantile-search.js';

/** Above this the distribution is the normal one to all digits kept here. */
const practicallyNormal = 1e14;

/**
 * Probability that a Student t variable with `degreesOfFreedom` > 0 (a fraction
 * or Infinity are possible) exceeds t; relative accuracy about 1e-13.
 *
 * @see M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.7.1
 */
export function studentTUpperTail(t: number, degreesOfFreedom: number): number {
  if (degreesOfFreedom > practicallyNormal) return normalUpperTail(t);
  if (t < 0) return 1 - studentTUpperTail(-t, degreesOfFreedom);
  const ratio = (t / degreesOfFreedom) * t;
  if (ratio === Infinity) return 0;
  return 0.5 * incompleteBeta(1 / (1 + ratio), degreesOfFreedom / 2, 0.5, ratio / (1 + ratio));
}

/**
 * The value a Student t variable exceeds with the given probability, 0 <
 * probability <= 0.5; about 1e-13. For a two-sided interval of 95 % ask for 0.025.
 */
export function studentTUpperQuantile(probability: number, degreesOfFreedom: number): number {
  if (probability === 0.5) return 0;
  if (degreesOfFreedom > practicallyNormal) return normalUpperQuantile(probability);
  const v = degreesOfFreedom;
  const logFactor = -logBeta(v / 2, 0.5) - 0.5 * log(v);
  const density = (t: number): number => exp(logFactor - ((v + 1) / 2) * log1p((t / v) * t));
  return searchQuantile(probability, 0, (t) => studentTUpperTail(t, v), density);
}

/** Factor k of the two-sided interval value ± k u that holds a share `confidence`, 0 < confidence < 1. */
export function coverageFactor(confidence: number, degreesOfFreedom: number): number {
  return studentTUpperQuantile((1 - confidence) / 2, degreesOfFreedom);
}
