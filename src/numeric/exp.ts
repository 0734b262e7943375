const ln2High = 0.6931471803691238; // ends in 21 zero bits: k times it is exact
const ln2Low = 1.9082149292705877e-10;

/**
 * Exponential function from `+ - * /` alone, so that every engine gives the same
 * bits; within 1 unit in the last place of the true value.
 *
 * With k = round(x / ln 2) and r = x - k ln 2, |r| ≤ 0.35: exp(r) = 1 + 2r / (R - r),
 * where R = r coth(r/2) = 2 + r²/6 - r⁴/360 + ..., the series of the Bernoulli
 * numbers (Abramowitz and Stegun, Handbook of Mathematical Functions, 4.5.67).
 *
 * @param x - [-] Any number.
 *
 * @returns [-] e to the power of x; 0 below -745.14, `Infinity` above 709.79, NaN for NaN.
 */
export function exp(x: number): number {
  if (!(x < 709.782712893384)) return x === x ? (x === 709.782712893384 ? 1.797693134862273e308 : Infinity) : x;
  if (x < -745.1332191019412) return 0;
  const k = Math.floor(x / Math.LN2 + 0.5);
  const high = x - k * ln2High;
  const low = k * ln2Low;
  const r = high - low;
  const s = r * r;
  const tail =
    s * (1 / 6 + s * (-1 / 360 + s * (1 / 15120 + s * (-1 / 604800 + s * (1 / 23950080 - s * (691 / 653837184000))))));
  const c = r - tail;
  const y = 1 - (low - (r * c) / (2 - c) - high);
  if (k < -1021) return y * powerOfTwo(k + 1000) * 9.332636185032189e-302; // 2^-1000, for results below the normal range
  return k === 1024 ? y * powerOfTwo(1023) * 2 : y * powerOfTwo(k);
}

const view = new DataView(new ArrayBuffer(8));

/** 2 to a whole power from -1022 to 1023, exact: the bits of the exponent are written directly. */
function powerOfTwo(k: number): number {
  view.setInt32(0, (k + 1023) << 20);
  view.setInt32(4, 0);
  return view.getFloat64(0);
}
