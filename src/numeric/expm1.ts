import { exp } from './exp.js';

/**
 * exp(x) - 1 without losing the digits of a small x: its Taylor series for
 * |x| < 0.5, where 16 terms leave less than 1e-19, and the difference beyond.
 * Only `+ - * /`.
 *
 * @param x - [-] Any number.
 *
 * @returns [-] e to the power of x, minus 1.
 */
export function expm1(x: number): number {
  if (!(Math.abs(x) < 0.5)) return exp(x) - 1;
  let sum = 1;
  for (let k = 16; k > 1; k--) sum = 1 + (sum * x) / k;
  return sum * x;
}
