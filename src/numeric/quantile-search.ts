import { log } from './log.js';

/**
 * Solves `tail(x) = probability` for a tail that falls from above `probability`
 * at `start` towards 0: Newton steps on the logarithm, kept inside a bracket and
 * replaced by halving when they leave it. `density` is minus the slope of
 * `tail`. Ends when a step no longer changes x.
 */
export function searchQuantile(
  probability: number,
  start: number,
  tail: (x: number) => number,
  density: (x: number) => number,
): number {
  let low = start;
  let high = start + 1;
  while (tail(high) > probability) {
    low = high;
    high = high * 2 + 1;
    if (high > 1e300) return high;
  }
  let x = low + (high - low) / 2;
  for (let i = 0; i < 200; i++) {
    const value = tail(x);
    if (value > probability) low = x;
    else high = x;
    const slope = density(x);
    const newton = x + (value * log(value / probability)) / slope;
    const next = newton > low && newton < high ? newton : low + (high - low) / 2;
    if (Math.abs(next - x) <= 2e-16 * Math.abs(next)) return next;
    x = next;
  }
  return x;
}
