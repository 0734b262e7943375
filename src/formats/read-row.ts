import { delimiterBytes, type TextReading } from './dialect.js';
import type { ScanFault } from './fault-log.js';
import { createFieldValue, readField, type FieldValue } from './read-field.js';
import { readNumber } from './read-number.js';
import { createFields, isBlank, mostColumns, splitLine, type Fields } from './split-line.js';

/** How the lines of one table are read, and scratch space. */
export interface RowRules {
  readonly bytes: Uint8Array;
  readonly reading: TextReading;
  readonly columns: number;
  /** [-] Columns of times, from 0; each serves the columns from itself to the next. */
  readonly timeColumns: readonly number[];
  readonly delimiter: number;
  readonly decimal: number;
  readonly blanks: boolean;
  readonly field: FieldValue;
  readonly fields: Fields;
  /** Cells of the row just read that gave no number: column from 0. */
  readonly badCells: { fault: ScanFault; column: number; from: number; to: number }[];
}

export function createRowRules(
  bytes: Uint8Array,
  reading: TextReading,
  columns: number,
  timeColumns: readonly number[],
): RowRules {
  return {
    bytes,
    reading,
    columns,
    timeColumns,
    delimiter: delimiterBytes[reading.delimiter],
    decimal: reading.decimal === '.' ? 46 : 44,
    blanks: reading.delimiter === 'blanks',
    field: createFieldValue(),
    fields: createFields(),
    badCells: [],
  };
}

/**
 * The common case, at full speed: a plain number in every field. Returns the
 * end of the line, or -1 when the line is anything else.
 */
export function readPlainRow(rules: RowRules, at: number, values: Float64Array, base: number): number {
  const { bytes, columns, delimiter, decimal, blanks, field } = rules;
  const { length } = bytes;
  let i = at;
  for (let c = 0; c < columns; c++) {
    if (c > 0) {
      if (blanks) {
        if (i >= length || !isBlank(bytes[i]!)) return -1;
      } else {
        while (bytes[i] === 32) i++;
        if (bytes[i] !== delimiter) return -1;
        i++;
      }
    }
    i = skipBlanks(bytes, i, blanks);
    values[base + c] = readNumber(bytes, i, length, decimal, field);
    if (field.next < 0) return -1;
    i = field.next;
  }
  i = skipBlanks(bytes, i, blanks);
  while (!blanks && bytes[i] === delimiter) i++;
  return i >= length || bytes[i] === 10 || bytes[i] === 13 ? i : -1;
}

function skipBlanks(bytes: Uint8Array, from: number, tabsToo: boolean): number {
  let i = from;
  while (bytes[i] === 32 || (tabsToo && bytes[i] === 9)) i++;
  return i;
}

/** What a line is: a row, one with a time alone, blank (or delimiters alone), or why it is no row. */
export type RowOutcome = 'row' | 'empty row' | 'blank' | { readonly fault: ScanFault; readonly column: number };

/**
 * Any line. It is a row when it has as many fields as the table has columns
 * (further empty ones may follow), a number in a column of times and another one.
 * Cells without a number are NaN and in `badCells`.
 */
export function readAnyRow(
  rules: RowRules,
  start: number,
  end: number,
  values: Float64Array,
  base: number,
): RowOutcome {
  const { bytes, reading, columns, fields, badCells } = rules;
  splitLine(bytes, start, end, rules.delimiter, fields);
  badCells.length = 0;
  if (fields.count > mostColumns) return { fault: 'row-width', column: 0 };
  let count = fields.count;
  while (count > 0 && fields.starts[count - 1]! >= fields.ends[count - 1]!) count--;
  if (count === 0) return 'blank';
  if (reading.paired === true) {
    if (!pairFields(bytes, fields, count)) return { fault: 'row-not-numeric', column: 0 };
    count = fields.count;
  }
  const numbers = readCells(rules, count, end, values, base);
  const time = rules.timeColumns.find((c) => !Number.isNaN(values[base + c]!));
  if (time === undefined) return { fault: 'row-not-numeric', column: rules.timeColumns[0]! };
  if (count > columns || fields.count < columns) return { fault: 'row-width', column: Math.min(count, columns) };
  if (numbers < 2) return 'empty row';
  return 'row';
}

/** Reads the cells into `values` and says how many were numbers. */
function readCells(rules: RowRules, count: number, end: number, values: Float64Array, base: number): number {
  const { bytes, reading, columns, timeColumns, fields, field, badCells } = rules;
  const blankGroups = reading.delimiter === 'semicolon' || reading.delimiter === 'tab';
  let numbers = 0;
  let ownTimeMissing = false;
  for (let c = 0; c < columns; c++) {
    const from = c < count ? fields.starts[c]! : end;
    const to = c < count ? fields.ends[c]! : end;
    values[base + c] = readField(bytes, from, to, reading, blankGroups, field);
    const isTime = timeColumns.includes(c);
    if (isTime) ownTimeMissing = field.kind === 'empty';
    if (field.kind === 'number') numbers++;
    else if (field.kind === 'text') badCells.push({ fault: 'cell-not-numeric', column: c, from, to });
    // Where several tables stand side by side, the shorter ones end in empty cells, their times too.
    else if (!(ownTimeMissing && timeColumns.length > 1)) badCells.push({ fault: 'cell-empty', column: c, from, to });
  }
  return numbers;
}

/** Joins every two pieces, each of digits alone, into one number; false when that cannot be. */
function pairFields(bytes: Uint8Array, fields: Fields, count: number): boolean {
  if (count % 2 === 1) return false;
  for (let c = 0; c < count; c += 2) {
    const middle = fields.starts[c + 1]!;
    const second = bytes[middle]! - 48;
    const touching = fields.ends[c]! + 1 === middle && !fields.quoted[c]! && !fields.quoted[c + 1]!;
    if (!touching || second < 0 || second > 9) return false;
    fields.starts[c / 2] = fields.starts[c]!;
    fields.ends[c / 2] = fields.ends[c + 1]!;
    fields.quoted[c / 2] = false;
  }
  fields.count = count / 2;
  return true;
}
