/** Where a number ended: the caller owns one and reuses it. */
export interface NumberEnd {
  /** First byte after the number, or -1 when there was none. */
  next: number;
}

/** Powers of ten that a double holds exactly. */
const exactPowers: readonly number[] = [
  1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20,
  1e21, 1e22,
];

/** Longest number that is read; a longer run of digits is not a reading. */
const longest = 400;

/** Largest digits value that can take one more digit and stay below 2^53. */
const roomForOneMore = 900_719_925_474_098;

/**
 * Reads the number that begins at `start`: optional sign, digits, optional
 * decimal mark and digits, optional exponent. The value is the double nearest
 * to the written decimal, the same bits as `Number(text)`.
 *
 * When the digits fit below 2^53 and the power of ten below 10^23, one
 * multiplication or division of two exact doubles rounds once and so is exact
 * (W. D. Clinger 1990, "How to read floating point numbers accurately", the
 * fast path). Everything else goes through `Number`.
 */
export function readNumber(bytes: Uint8Array, start: number, end: number, decimal: number, at: NumberEnd): number {
  const body = skipSign(bytes, start, end);
  let i = body;
  let digits = 0;
  let seen = 0;
  let exponent = 0;
  let places = 0;
  let exact = true;
  for (; i < end; i++) {
    const digit = bytes[i]! - 48;
    if (digit >= 0 && digit <= 9) {
      seen++;
      exact &&= digits <= roomForOneMore;
      if (exact) {
        digits = digits * 10 + digit;
        exponent -= places;
      }
    } else if (places === 0 && bytes[i] === decimal) places = 1;
    else break;
  }
  at.next = -1;
  if (seen === 0) return 0;
  if ((bytes[i]! | 32) === 101) {
    exponent += readExponent(bytes, i + 1, end, at);
    if (at.next >= 0) i = at.next;
  }
  const value = exact && exponent >= -22 && exponent <= 22 ? scale(digits, exponent) : convert(bytes, body, i, decimal);
  at.next = value < Infinity ? i : -1;
  return body > start && bytes[start] !== 43 ? -value : value;
}

/** The first byte after a plus, a minus or the minus sign U+2212. */
function skipSign(bytes: Uint8Array, start: number, end: number): number {
  const byte = start < end ? bytes[start]! : 0;
  if (byte === 45 || byte === 43) return start + 1;
  return byte === 0xe2 && start + 2 < end && bytes[start + 1] === 0x88 && bytes[start + 2] === 0x92 ? start + 3 : start;
}

/** Value of the exponent whose sign or first digit is at `start`; 0 and no end when there is none. */
function readExponent(bytes: Uint8Array, start: number, end: number, at: NumberEnd): number {
  const sign = bytes[start]!;
  const first = sign === 45 || sign === 43 ? start + 1 : start;
  let value = 0;
  let i = first;
  for (; i < end; i++) {
    const digit = bytes[i]! - 48;
    if (digit < 0 || digit > 9) break;
    if (value < 100_000) value = value * 10 + digit;
  }
  at.next = i > first ? i : -1;
  return sign === 45 ? -value : value;
}

function scale(digits: number, exponent: number): number {
  return exponent < 0 ? digits / exactPowers[-exponent]! : digits * exactPowers[exponent]!;
}

/** The number written without a sign between two bytes; infinite when it is too long or too large. */
function convert(bytes: Uint8Array, start: number, end: number, decimal: number): number {
  if (end - start > longest) return Infinity;
  let text = '';
  for (let i = start; i < end; i++) text += bytes[i] === decimal ? '.' : String.fromCharCode(bytes[i]!);
  return Number(text);
}
