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
export function measureMoments(time: ArrayLike<number>, value: ArrayLike<number>, origin: number): Moments | undefined {
  const last = Math.min(time.length, value.length) - 1;
  let zeroth = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  for (let i = 0; i <= last; i++) {
    const x = time[i]! - origin;
    const part = ((time[Math.min(i + 1, last)]! - time[Math.max(i - 1, 0)]!) / 2) * value[i]!;
    zeroth += part;
    s1 += part * x;
    s2 += part * x * x;
    s3 += part * x * x * x;
    s4 += part * x * x * x * x;
  }
  const m = s1 / zeroth;
  const r2 = s2 / zeroth;
  const r3 = s3 / zeroth;
  const r4 = s4 / zeroth;
  const variance = r2 - m * m;
  const third = r3 - 3 * m * r2 + 2 * m * m * m;
  const fourth = r4 - 4 * m * r3 + 6 * m * m * r2 - 3 * m * m * m * m;
  const skew = third / (variance * Math.sqrt(variance));
  const excess = fourth / (variance * variance) - 3;
  if (!(zeroth > 0 && variance > 0 && Number.isFinite(skew) && Number.isFinite(excess))) return undefined;
  return { zeroth, mean: origin + m, variance, third, fourth, skew, excess };
}
