import { quantileInPlace } from './selection.js';

/** Quantiles 0.75 and 0.95 of the standard normal distribution. */
const normal75 = 0.674489750196082;
const normal95 = 1.644853626951473;

/**
 * Standard deviation of white noise on a slowly changing signal: the median
 * size of the second differences, which straight drift leaves alone and narrow
 * peaks touch only where they are, over sqrt(6) and the quartile of the normal
 * distribution. Noise that is correlated from sample to sample comes out too
 * low. When more than half of the differences are zero, as on coarsely
 * digitised signals, the 90 % point of their size is used instead.
 *
 * @param values - N finite readings.
 *
 * @returns The standard deviation; `undefined` when N is below 10.
 */
export function differenceNoise(values: Float64Array): number | undefined {
  const count = values.length - 2;
  if (count < 8) return undefined;
  const sizes = new Float64Array(count);
  for (let i = 0; i < count; i++) sizes[i] = Math.abs(values[i]! - 2 * values[i + 1]! + values[i + 2]!);
  const median = quantileInPlace(sizes, count, 0.5);
  const size = median > 0 ? median / normal75 : quantileInPlace(sizes, count, 0.9) / normal95;
  return size / Math.sqrt(6);
}
