import { erfcx } from './erfcx.js';
import { exp } from './exp.js';
import { searchQuantile } from './quantile-search.js';

const inverseRootTwoPi = 0.39894228040143267794;
const rootHalfPi = 1.2533141373155002512;

/** Density of the standard normal distribution. */
export function normalDensity(x: number): number {
  // the square in two parts: a rounded square would cost digits in the far tail
  const head = Math.round(x * 16) / 16;
  return inverseRootTwoPi * exp(-0.5 * head * head) * exp(-0.5 * (x - head) * (x + head));
}

/**
 * Probability that a standard normal variable exceeds x; relative accuracy
 * about 1e-15 as far as the result is not denormal.
 *
 * @see M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.2.29
 */
export function normalUpperTail(x: number): number {
  if (x < 0) return 1 - normalUpperTail(-x);
  return normalDensity(x) * rootHalfPi * erfcx(x / Math.SQRT2);
}

/** Quantile of the standard normal distribution, 0 < p < 1, to about 1e-14. */
export function normalQuantile(p: number): number {
  if (p > 0.5) return normalUpperQuantile(1 - p);
  return p === 0.5 ? 0 : -normalUpperQuantile(p);
}

/** The value exceeded with the given probability, 0 < probability <= 0.5. */
export function normalUpperQuantile(probability: number): number {
  if (probability === 0.5) return 0;
  return searchQuantile(probability, 0, normalUpperTail, normalDensity);
}
