import { delimiterBytes, type TextReading } from './dialect.js';

/** Most fields of one line that are looked at. */
const mostFields = 10_000;

/** Longest quoted field, in bytes, that may contain line breaks; a quote without a partner this near is a plain character. */
const longestQuoted = 1024;

/** Fields of one line: where each starts and ends. The caller owns one and reuses it. */
export interface Fields {
  count: number;
  /** [-] Fields up to the last one that is not empty. */
  filled: number;
  readonly starts: number[];
  readonly ends: number[];
}

export function createFields(): Fields {
  return { count: 0, filled: 0, starts: [], ends: [] };
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
    if (byte === 34 && (i === start || isSeparator(bytes[i - 1]!))) i = Math.max(i, findClosingQuote(bytes, i + 1));
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

/** Whether a byte may stand between two fields. */
export function isSeparator(byte: number): boolean {
  return byte === 44 || byte === 59 || isBlank(byte);
}

function isBlank(byte: number | undefined): boolean {
  return byte === 32 || byte === 9;
}

/** First byte from here on that is neither a space nor, unless it is the delimiter, a tab. */
export function skipBlanks(bytes: Uint8Array, from: number, delimiter: number): number {
  let i = from;
  while (bytes[i] === 32 || (bytes[i] === 9 && delimiter !== 9)) i++;
  return i;
}

/** Splits one line into fields. Blanks around a field are not part of it. */
export function splitLine(bytes: Uint8Array, start: number, end: number, reading: TextReading, fields: Fields): void {
  const delimiter = delimiterBytes[reading.delimiter];
  const blanks = delimiter === 32;
  fields.count = fields.filled = 0;
  let hasQuotes = false;
  for (let i = start; fields.count <= mostFields; i++) {
    const from = skipBlanks(bytes, i, delimiter);
    if (blanks && from >= end) break;
    const close = bytes[from] === 34 ? findClosingQuote(bytes, from + 1) : -1;
    const quoted = close >= 0 && close < end;
    i = quoted ? close + 1 : from;
    while (i < end && bytes[i] !== delimiter && !(blanks && bytes[i] === 9)) i++;
    // Text after a closing quote means that the quotes were not quotes.
    hasQuotes ||= quoted;
    if (quoted && skipBlanks(bytes, close + 1, delimiter) >= i) addField(bytes, from + 1, close, fields);
    else addField(bytes, from, i, fields);
    if (i >= end) break;
  }
  if (!hasQuotes && reading.decimal === ',' && delimiter === 44) joinPairs(bytes, fields);
}

/** Adds the field between two bytes, without the blanks around it. */
function addField(bytes: Uint8Array, from: number, to: number, fields: Fields): void {
  let start = from;
  let end = to;
  while (start < end && isBlank(bytes[start])) start++;
  while (start < end && isBlank(bytes[end - 1])) end--;
  fields.starts[fields.count] = start;
  fields.ends[fields.count++] = end;
  if (start < end) fields.filled = fields.count;
}

/** Joins every two pieces that touch into one field; a line where that cannot be stays as it is. */
function joinPairs(bytes: Uint8Array, fields: Fields): void {
  const { starts, ends, filled } = fields;
  for (let c = 0; c < filled; c += 2) {
    const second = bytes[starts[c + 1]!]! - 48;
    if (c + 1 === filled || ends[c]! + 1 !== starts[c + 1] || !(second >= 0 && second <= 9)) return;
  }
  fields.count = fields.filled = filled / 2;
  for (let c = 0; c < filled / 2; c++) {
    starts[c] = starts[2 * c]!;
    ends[c] = ends[2 * c + 1]!;
  }
}
