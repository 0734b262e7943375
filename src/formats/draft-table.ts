import { delimiterBytes, type TextReading } from './dialect.js';
import { createFieldValue, readField } from './read-field.js';
import { afterLineBreak, createFields, findLineEnd, mostColumns, splitLine, type Fields } from './split-line.js';
import { findTopHeader } from './table-header.js';
import type { ColumnHeader } from './column-header.js';

/** A line: first byte, and the one after the last. */
export type LineSpan = readonly [start: number, end: number];

/** What a sample of lines says about the table under one reading. */
export interface Draft {
  readonly reading: TextReading;
  readonly columns: number;
  /** [-] Columns of times, from 0. */
  readonly timeColumns: readonly number[];
  /** [-] Columns that hold no number in the sample, from 0. */
  readonly textColumns: readonly number[];
  /** [-] Lines of the sample that look like rows. */
  readonly score: number;
}

/**
 * The most frequent number of fields among lines with two numbers or more, and
 * the columns of times: the one asked for, else those the header calls so,
 * else the first.
 */
export function draftTable(
  bytes: Uint8Array,
  lines: readonly LineSpan[],
  reading: TextReading,
  asked: string | number | undefined,
): Draft | undefined {
  const widths = new Map<number, { count: number; filled: number; numeric: Map<number, number> }>();
  const fields = createFields();
  const field = createFieldValue();
  for (const [start, end] of lines) {
    splitLine(bytes, start, end, delimiterBytes[reading.delimiter], fields);
    if (reading.paired === true) joinPairs(fields);
    if (fields.count < 2 || fields.count > mostColumns) continue;
    const numeric: number[] = [];
    for (let c = 0; c < fields.count; c++) {
      readField(bytes, fields.starts[c]!, fields.ends[c]!, reading, true, field);
      if (field.kind === 'number') numeric.push(c);
    }
    if (numeric.length < 2) continue;
    const width = widths.get(fields.count) ?? { count: 0, filled: 0, numeric: new Map<number, number>() };
    width.count++;
    while (width.filled < fields.count && isFilledFrom(fields, width.filled)) width.filled++;
    for (const c of numeric) width.numeric.set(c, (width.numeric.get(c) ?? 0) + 1);
    widths.set(fields.count, width);
  }
  const [best] = [...widths].sort((a, b) => b[1].count - a[1].count);
  if (best === undefined) return undefined;
  const [width, { filled, numeric }] = best;
  // Fields at the end that are always empty are columns only if the header names them.
  const named =
    filled < width ? findTopHeader(bytes, reading, width)?.findLastIndex(({ text }) => text !== '') : undefined;
  const columns = Math.max(filled, (named ?? -1) + 1);
  const timeColumns = findTimeColumns(findTopHeader(bytes, reading, columns), columns, asked);
  const textColumns = Array.from({ length: columns }, (_, c) => c).filter((c) => !numeric.has(c));
  const score = Math.max(0, ...timeColumns.map((c) => numeric.get(c) ?? 0));
  return score === 0 ? undefined : { reading, columns, timeColumns, textColumns, score };
}

/** Columns of times: several only when each is followed by its own signals. */
function findTimeColumns(
  header: readonly ColumnHeader[] | undefined,
  columns: number,
  asked: string | number | undefined,
): number[] {
  if (typeof asked === 'number') return asked <= columns ? [asked - 1] : [];
  if (asked !== undefined) {
    const found = header?.findIndex(({ text, name }) => text === asked || name === asked) ?? -1;
    return found < 0 ? [] : [found];
  }
  const named = header?.flatMap(({ isTime }, c) => (isTime ? [c] : [])) ?? [];
  if (named.length === 0) return [0];
  const eachHasSignals = named.every((c, k) => (named[k + 1] ?? columns) > c + 1);
  return eachHasSignals && named[0] === 0 ? named : [named[0]!];
}

/** Whether the field with this number or one after it is not empty. */
function isFilledFrom({ count, starts, ends }: Fields, first: number): boolean {
  for (let c = first; c < count; c++) if (starts[c]! < ends[c]!) return true;
  return false;
}

/** Fields counted in pairs, as if every second delimiter were a decimal mark. */
function joinPairs(fields: { count: number; ends: number[]; starts: number[] }): void {
  const pairs = fields.count / 2;
  if (!Number.isInteger(pairs)) {
    fields.count = 0;
    return;
  }
  for (let k = 0; k < pairs; k++) {
    fields.starts[k] = fields.starts[2 * k]!;
    fields.ends[k] = fields.ends[2 * k + 1]!;
  }
  fields.count = pairs;
}

/** Lines spread over the file: all of them when they are few. */
export function sampleLines(bytes: Uint8Array, most: number): { lines: LineSpan[]; areAll: boolean } {
  const lines: LineSpan[] = [];
  let next = 0;
  let areAll = true;
  for (let k = 0; k < most && next < bytes.length; k++) {
    const wanted = Math.floor((k * bytes.length) / most);
    if (next < wanted) {
      areAll = false;
      // Land inside a line, then take the one after it.
      next = wanted;
      while (next < bytes.length && bytes[next] !== 10 && bytes[next] !== 13) next++;
      next = afterLineBreak(bytes, next);
    }
    if (next >= bytes.length) break;
    const end = findLineEnd(bytes, next);
    lines.push([next, end]);
    next = afterLineBreak(bytes, end);
  }
  return { lines, areAll: areAll && next >= bytes.length };
}
