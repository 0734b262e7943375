/** Expected range of 2, 4, 8, ... 2^20 independent normal values of standard deviation 1. */
const atPowersOfTwo = [
  1.128379, 2.058751, 2.847201, 3.531983, 4.139338, 4.687467, 5.189195, 5.653727, 6.087806, 6.496479, 6.883598,
  7.252164, 7.604558, 7.942701, 8.268166, 8.582259, 8.886078, 9.180557, 9.466496, 9.744588,
] as const;

/**
 * Expected range (largest less smallest) of n independent normal values, in
 * standard deviations: what turns a standard deviation into the peak-to-peak
 * noise of n samples. Between the powers of two of its table it is interpolated
 * in the logarithm of n, to 0.3 % from n = 16 on.
 *
 * @param n - Number of values, at least 2; beyond 2^20 the last entry is returned.
 */
export function normalRange(n: number): number {
  let power = 1;
  let count = 2;
  while (power < atPowersOfTwo.length && count * 2 <= n) {
    count *= 2;
    power++;
  }
  const here = atPowersOfTwo[power - 1]!;
  const next = atPowersOfTwo[power];
  if (next === undefined) return here;
  const u = Math.max(0, n / count - 1);
  // log2(1 + u) for u from 0 to 1, to 0.003.
  const part = u * (1 + (1 - u) * (0.43 - 0.18 * u));
  return here + part * (next - here);
}
