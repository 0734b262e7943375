const ln2High = 0.6931471803691238; // ends in 21 zero bits: k times it is exact
const ln2Low = 1.9082149292705877e-10;
const view = new DataView(new ArrayBuffer(8));

/**
 * Natural logarithm from `+ - * /` alone, so that every engine gives the same
 * bits; within 1 unit in the last place of the true value.
 *
 * With x = 2^k (1 + f), 1 + f between √½ and √2, and s = f / (2 + f):
 * ln(1 + f) = 2 artanh(s) = 2 (s + s³/3 + s⁵/5 + ...), |s| ≤ 0.172 (Abramowitz and
 * Stegun, Handbook of Mathematical Functions, 4.1.27).
 *
 * @param x - [-] Any number.
 *
 * @returns [-] The logarithm; `-Infinity` for 0, NaN below 0 and for NaN, `Infinity` for `Infinity`.
 */
export function log(x: number): number {
  if (!(x > 0)) return x === 0 ? -Infinity : NaN;
  if (x === Infinity) return x;
  const subnormal = x < 2.2250738585072014e-308;
  view.setFloat64(0, subnormal ? x * 18014398509481984 : x); // times 2^54
  const head = view.getInt32(0);
  let k = (head >> 20) - 1023 - (subnormal ? 54 : 0);
  view.setInt32(0, (head & 0xfffff) | 0x3ff00000);
  let m = view.getFloat64(0);
  if (m > Math.SQRT2) {
    m /= 2;
    k += 1;
  }
  const f = m - 1;
  const s = f / (2 + f);
  const z = s * s;
  // artanh: the part beyond 2s is s R, and 2s = f - s f; half f² keeps the digits of f.
  const r =
    z *
    (2 / 3 +
      z *
        (2 / 5 +
          z *
            (2 / 7 +
              z *
                (2 / 9 +
                  z *
                    (2 / 11 +
                      z *
                        (2 / 13 +
                          z * (2 / 15 + z * (2 / 17 + z * (2 / 19 + z * (2 / 21 + z * (2 / 23 + (z * 2) / 25)))))))))));
  const half = (f * f) / 2;
  return k * ln2High - (half - (s * (half + r) + k * ln2Low) - f);
}
