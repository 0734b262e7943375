/**
 * [signal unit] Noise of the mean of `count` readings whose correlation r falls off
 * exponentially: sd² / n ((1 + r) / (1 - r) - 2 r (1 - rⁿ) / (n (1 - r)²)). G. E. P. Box, G. M. Jenkins, Time Series Analysis (from memory).
 */
export function noiseOfMean(reading: number, correlation: number, count: number): number {
  const n = Math.max(1, count);
  const r = Math.min(Math.max(correlation, 0), 0.99);
  let power = 1;
  for (let i = 0; i < n && power > 1e-6; i++) power *= r;
  const sum = (1 + r) / (1 - r) - (2 * r * (1 - power)) / (n * (1 - r) * (1 - r));
  return reading * Math.sqrt(Math.max(sum, 1e-3) / n);
}
