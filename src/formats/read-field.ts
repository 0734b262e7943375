import type { TextReading } from './dialect.js';
import { readNumber, type NumberEnd } from './read-number.js';
import { isBlank } from './split-line.js';

/** What a field held. */
export type FieldKind = 'number' | 'empty' | 'text';

/** Result of {@link readField}; the caller owns one and reuses it. */
export interface FieldValue extends NumberEnd {
  kind: FieldKind;
  /** Set when a number had its thousands grouped by the other mark; the caller clears it. */
  anyGrouped: boolean;
  /** Set when such a number alone tells the grouping from the decimal mark: it has both, or two groups. */
  anyProven: boolean;
}

export function createFieldValue(): FieldValue {
  return { next: 0, kind: 'empty', anyGrouped: false, anyProven: false };
}

/** Reads a whole field as one number. */
export function readField(
  bytes: Uint8Array,
  start: number,
  end: number,
  reading: TextReading,
  allowBlankGroups: boolean,
  out: FieldValue,
): number {
  while (start < end && isBlank(bytes[start]!)) start++;
  while (end > start && isBlank(bytes[end - 1]!)) end--;
  if (start === end) {
    out.kind = 'empty';
    return Number.NaN;
  }
  const decimal = reading.decimal === '.' ? 46 : 44;
  const value = readNumber(bytes, start, end, decimal, out);
  if (out.next === end) {
    out.kind = 'number';
    return value;
  }
  out.kind = 'text';
  return end - start <= 64 ? readGrouped(bytes, start, end, decimal, reading, allowBlankGroups, out) : Number.NaN;
}

/** A number whose thousands are grouped in strict threes: `1.234.567,8`, `1'234.5`, `1 234,5`. */
function readGrouped(
  bytes: Uint8Array,
  start: number,
  end: number,
  decimal: number,
  reading: TextReading,
  allowBlankGroups: boolean,
  out: FieldValue,
): number {
  // Most text is no number at all, and soon told.
  const first = bytes[start]!;
  if (first > 57 && first !== 0xe2) return Number.NaN;
  const text = new TextDecoder()
    .decode(bytes.subarray(start, end))
    .replaceAll('\u2019', "'")
    .replaceAll(/[\u00a0\u202f\u2009]/g, ' ');
  const parts = /^([-+\u2212]?[1-9]\d{0,2})(([.,' ])\d{3}(?:\3\d{3})*)((?:[.,]\d*)?(?:[eE][-+]?\d+)?)$/.exec(text);
  if (parts === null) return Number.NaN;
  const [, head, groups, mark, tail] = parts as unknown as [string, string, string, string, string];
  const markAllowed = mark === "'" || (mark === ' ' ? allowBlankGroups : mark === reading.grouping);
  if (!markAllowed || tail.startsWith(reading.decimal === '.' ? ',' : '.')) return Number.NaN;
  const plain = new TextEncoder().encode(head + groups.replaceAll(mark, '') + tail);
  const value = readNumber(plain, 0, plain.length, decimal, out);
  if (out.next !== plain.length) return Number.NaN;
  out.kind = 'number';
  if (mark === reading.grouping) {
    out.anyGrouped = true;
    if (tail.startsWith(reading.decimal) || groups.length > 4) out.anyProven = true;
  }
  return value;
}
