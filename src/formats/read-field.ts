import type { TextReading } from './dialect.js';
import { readNumber, type NumberEnd } from './read-number.js';
import { isBlank } from './split-line.js';

/** What a field held. */
export type FieldKind = 'number' | 'empty' | 'text';

/** Result of {@link readField}; the caller owns one and reuses it. */
export interface FieldValue extends NumberEnd {
  kind: FieldKind;
  /** Whether thousands were grouped. */
  grouped: boolean;
  /** Whether the number alone tells the grouping from the decimal mark: it has both, or two groups. */
  groupingProven: boolean;
}

export function createFieldValue(): FieldValue {
  return { next: 0, kind: 'empty', grouped: false, groupingProven: false };
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
  out.grouped = false;
  out.groupingProven = false;
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
  const text = new TextDecoder()
    .decode(bytes.subarray(start, end))
    .replaceAll('\u2019', "'")
    .replaceAll(/[\u00a0\u202f\u2009]/g, ' ');
  const parts = /^([-+\u2212]?)([1-9]\d{0,2})((?:[.,' ]\d{3})+)((?:[.,]\d*)?(?:[eE][-+]?\d+)?)$/.exec(text);
  if (parts === null) return Number.NaN;
  const [, sign, head, groups, tail] = parts as unknown as [string, string, string, string, string];
  const mark = groups[0]!;
  for (let i = 0; i < groups.length; i += 4) if (groups[i] !== mark) return Number.NaN;
  const markAllowed = mark === "'" || (mark === ' ' ? allowBlankGroups : mark === reading.grouping);
  if (!markAllowed || tail.startsWith(reading.decimal === '.' ? ',' : '.')) return Number.NaN;
  const plain = new TextEncoder().encode(sign + head + groups.replaceAll(mark, '') + tail);
  const value = readNumber(plain, 0, plain.length, decimal, out);
  if (out.next !== plain.length) return Number.NaN;
  out.kind = 'number';
  out.grouped = mark === reading.grouping;
  out.groupingProven = tail.startsWith(reading.decimal) || groups.length > 4;
  return value;
}
