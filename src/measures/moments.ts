/**
 * Statistical moments of a curve: M0 its area, M1 its mean position, M2 to M4
 * central.
 *
 * @public
 */
export interface Moments {
  /** [signal unit min] M0, the area. */
  readonly zeroth: number;
  /** [min] M1, the mean time. */
  readonly mean: number;
  /** [min²] M2, the variance. */
  readonly variance: number;
  /** [min³] M3. */
  readonly third: number;
  /** [min⁴] M4. */
  readonly fourth: number;
  /** [-] Skew M3 / M2^1.5. */
  readonly skew: number;
  /** [-] Excess M4 / M2² - 3. */
  readonly excess: number;
}

/**
 * Moments of a curve by the trapezoidal rule on its real axis, about `origin`
 * first, so that no digits cancel. On a smooth peak that starts and ends at
 * zero the rule converges faster than any power of the spacing. Negative
 * values stay in.
 *
 * @param time - [min] N times, strictly increasing.
 * @param value - [signal unit] N values above the baseline, positive for the peak.
 * @param origin - [min] A time within the peak, for example its apex.
 * @returns The moments, or nothing when the area or the variance is not
 *   positive: then they mean nothing.
 * @see E. Grushka (1972), Anal. Chem. 44, 1733-1738; from memory.
 *
 * @public
 */
export function measureMoments(
  time: ArrayLike<number>,
  value: ArrayLike<number>,
  origin: number,
  length: number = Math.min(time.length, value.length),
): Moments | undefined {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  for (let i = 0; i < length; i++) {
    const width = (time[Math.min(i + 1, length - 1)]! - time[Math.max(i - 1, 0)]!) / 2;
    const x = time[i]! - origin;
    const w = width * value[i]!;
    s0 += w;
    s1 += w * x;
    s2 += w * x * x;
    s3 += w * x * x * x;
    s4 += w * x * x * x * x;
  }
  if (!(s0 > 0)) return undefined;
  const m = s1 / s0;
  const r2 = s2 / s0;
  const r3 = s3 / s0;
  const r4 = s4 / s0;
  const variance = r2 - m * m;
  if (!(variance > 0)) return undefined;
  const third = r3 - 3 * m * r2 + 2 * m * m * m;
  const fourth = r4 - 4 * m * r3 + 6 * m * m * r2 - 3 * m * m * m * m;
  const skew = third / (variance * Math.sqrt(variance));
  const excess = fourth / (variance * variance) - 3;
  if (!Number.isFinite(skew) || !Number.isFinite(excess)) return undefined;
  return { zeroth: s0, mean: origin + m, variance, third, fourth, skew, excess };
}
