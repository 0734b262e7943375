/** Most fields of one line that are looked at. */
export const mostColumns = 10_000;

/** Longest quoted field, in bytes, that may contain line breaks; a quote without a partner this near is a plain character. */
const longestQuoted = 1024;

/** Fields of one line: where each starts and ends, and whether it stood in quotes. The caller owns one and reuses it. */
export interface Fields {
  count: number;
  readonly starts: number[];
  readonly ends: number[];
  readonly quoted: boolean[];
}

export function createFields(): Fields {
  return { count: 0, starts: [], ends: [], quoted: [] };
}

/**
 * First byte of the line break that ends the line (or the end of the data). A
 * break inside quotes belongs to the field. Each search for a closing quote
 * passes over bytes without any quote, so the whole file costs linear time
 * even when no quote is ever closed.
 */
export function findLineEnd(bytes: Uint8Array, start: number): number {
  const { length } = bytes;
  for (let i = start; i < length; i++) {
    const byte = bytes[i]!;
    if (byte === 10 || byte === 13) return i;
    if (byte === 34 && (i === start || partsFields(bytes[i - 1]!))) {
      const close = findClosingQuote(bytes, i + 1);
      if (close >= 0) i = close;
    }
  }
  return length;
}

/** First byte of the next line, given the end of this one; CR LF counts once. */
export function afterLineBreak(bytes: Uint8Array, end: number): number {
  return bytes[end] === 13 && bytes[end + 1] === 10 ? end + 2 : end + 1;
}

function findClosingQuote(bytes: Uint8Array, from: number): number {
  const limit = Math.min(bytes.length, from + longestQuoted);
  for (let i = from; i < limit; i++) {
    if (bytes[i] !== 34) continue;
    if (bytes[i + 1] === 34) i++;
    else return i;
  }
  return -1;
}

function partsFields(byte: number): boolean {
  return byte === 44 || byte === 59 || byte === 9 || byte === 32;
}

/**
 * Splits one line at a delimiter byte; 32 means any run of spaces and tabs.
 * Blanks around a field are not part of it.
 */
export function splitLine(bytes: Uint8Array, start: number, end: number, delimiter: number, fields: Fields): void {
  const blanks = delimiter === 32;
  fields.count = 0;
  let i = start;
  if (blanks) {
    while (i < end && isBlank(bytes[i]!)) i++;
    if (i === end) return;
  }
  while (fields.count <= mostColumns) {
    while (i < end && isBlank(bytes[i]!) && bytes[i] !== delimiter) i++;
    let from = i;
    let to = -1;
    let quoted = false;
    if (i < end && bytes[i] === 34) {
      const close = findClosingQuote(bytes, i + 1);
      if (close >= 0 && close < end) {
        from = i + 1;
        to = close;
        quoted = true;
        i = close + 1;
      }
    }
    const rest = i;
    while (i < end && (blanks ? !isBlank(bytes[i]!) : bytes[i] !== delimiter)) i++;
    if (to < 0 || hasText(bytes, rest, i)) {
      // Text after a closing quote means that the quotes were not quotes.
      if (quoted) from--;
      quoted = false;
      to = i;
      while (to > from && isBlank(bytes[to - 1]!)) to--;
    }
    fields.starts[fields.count] = from;
    fields.ends[fields.count] = to;
    fields.quoted[fields.count] = quoted;
    fields.count++;
    if (i >= end) return;
    i++;
    if (blanks) {
      while (i < end && isBlank(bytes[i]!)) i++;
      if (i >= end) return;
    }
  }
}

export function isBlank(byte: number): boolean {
  return byte === 32 || byte === 9;
}

function hasText(bytes: Uint8Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (!isBlank(bytes[i]!)) return true;
  return false;
}
