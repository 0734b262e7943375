import { erfc } from './erfcx.js';
import { fUpperTail } from './f-distribution.js';

/** Above this the distribution is the normal one to all digits kept here. */
const practicallyNormal = 1e12;

/**
 * Probability that a Student t variable with `degreesOfFreedom` > 0 (a fraction
 * or Infinity are possible) exceeds t >= 0; relative accuracy about 1e-12. The
 * square of t is an F variable with 1 degree of freedom.
 *
 * @see M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.7.1
 */
export function studentTUpperTail(t: number, degreesOfFreedom: number): number {
  return degreesOfFreedom > practicallyNormal ? erfc(t / Math.SQRT2) / 2 : fUpperTail(t * t, 1, degreesOfFreedom) / 2;
}

/**
 * The value a Student t variable exceeds with the given probability, 0 <
 * probability <= 0.5; about 1e-12. Halves the bracket until no number is left
 * between its ends.
 */
export function studentTUpperQuantile(probability: number, degreesOfFreedom: number): number {
  let low = 0;
  let high = 1;
  while (studentTUpperTail(high, degreesOfFreedom) > probability) {
    low = high;
    high *= 2;
  }
  for (;;) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return middle;
    if (studentTUpperTail(middle, degreesOfFreedom) > probability) low = middle;
    else high = middle;
  }
}

/** Factor k of the two-sided interval value ± k u that holds a share `confidence`, 0 < confidence < 1. */
export function coverageFactor(confidence: number, degreesOfFreedom: number): number {
  return studentTUpperQuantile((1 - confidence) / 2, degreesOfFreedom);
}
