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
  let i = start;
  let negative = false;
  let byte = i < end ? bytes[i]! : 0;
  if (byte === 45 || byte === 43) {
    negative = byte === 45;
    i++;
  } else if (byte === 0xe2 && i + 2 < end && bytes[i + 1] === 0x88 && bytes[i + 2] === 0x92) {
    negative = true;
    i += 3;
  }
  const body = i;
  let digits = 0;
  let seen = 0;
  let dropped = false;
  let exponent = 0;
  for (; i < end; i++) {
    byte = bytes[i]! - 48;
    if (byte < 0 || byte > 9) break;
    if (digits <= roomForOneMore) digits = digits * 10 + byte;
    else dropped = true;
    seen++;
  }
  if (i < end && bytes[i] === decimal) {
    i++;
    for (; i < end; i++) {
      byte = bytes[i]! - 48;
      if (byte < 0 || byte > 9) break;
      if (digits <= roomForOneMore) {
        digits = digits * 10 + byte;
        exponent--;
      } else dropped = true;
      seen++;
    }
  }
  if (seen === 0) {
    at.next = -1;
    return 0;
  }
  if (i + 1 < end && (bytes[i] === 101 || bytes[i] === 69)) {
    let j = i + 1;
    let down = false;
    if (bytes[j] === 45 || bytes[j] === 43) {
      down = bytes[j] === 45;
      j++;
    }
    const first = j;
    let written = 0;
    for (; j < end; j++) {
      byte = bytes[j]! - 48;
      if (byte < 0 || byte > 9) break;
      if (written < 100_000) written = written * 10 + byte;
    }
    if (j > first) {
      exponent += down ? -written : written;
      i = j;
    }
  }
  at.next = i;
  let value: number;
  if (dropped || exponent < -22 || exponent > 22) {
    value = i - body > longest ? Number.NaN : throughText(bytes, body, i, decimal);
    if (!Number.isFinite(value)) {
      at.next = -1;
      return 0;
    }
  } else if (exponent < 0) value = digits / exactPowers[-exponent]!;
  else if (exponent > 0) value = digits * exactPowers[exponent]!;
  else value = digits;
  return negative ? -value : value;
}

function throughText(bytes: Uint8Array, start: number, end: number, decimal: number): number {
  let text = '';
  for (let i = start; i < end; i++) text += bytes[i] === decimal ? '.' : String.fromCharCode(bytes[i]!);
  return Number(text);
}
