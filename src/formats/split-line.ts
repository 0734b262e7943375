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

/** [-] Line breaks between two bytes: those inside the quoted fields of a line. */
export function countLineBreaks(bytes: Uint8Array, from: number, to: number): number {
  let count = 0;
  for (let i = from; i < to; i++) {
    if (bytes[i] === 10 || (bytes[i] === 13 && bytes[i + 1] !== 10)) count++;
  }
  return count;
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
  let i = blanks ? skipBlanks(bytes, start, end) : start;
  if (blanks && i === end) return;
  while (fields.count <= mostColumns) {
    i = readOneField(bytes, i, end, delimiter, fields);
    if (i >= end) return;
    i++;
    if (!blanks) continue;
    i = skipBlanks(bytes, i, end);
    if (i >= end) return;
  }
}

/** Adds the field that begins at `at` and returns where its delimiter stands. */
function readOneField(bytes: Uint8Array, at: number, end: number, delimiter: number, fields: Fields): number {
  const blanks = delimiter === 32;
  let from = at;
  while (from < end && isBlank(bytes[from]!) && bytes[from] !== delimiter) from++;
  const close = from < end && bytes[from] === 34 ? findClosingQuote(bytes, from + 1) : -1;
  const quoted = close >= 0 && close < end;
  let next = quoted ? close + 1 : from;
  while (next < end && (blanks ? !isBlank(bytes[next]!) : bytes[next] !== delimiter)) next++;
  let to = next;
  while (to > from && isBlank(bytes[to - 1]!)) to--;
  // Text after a closing quote means that the quotes were not quotes.
  const inside = quoted && to === close + 1;
  fields.starts[fields.count] = inside ? from + 1 : from;
  fields.ends[fields.count] = inside ? close : to;
  fields.quoted[fields.count] = inside;
  fields.count++;
  return next;
}

function skipBlanks(bytes: Uint8Array, from: number, end: number): number {
  let i = from;
  while (i < end && isBlank(bytes[i]!)) i++;
  return i;
}

export function isBlank(byte: number): boolean {
  return byte === 32 || byte === 9;
}
