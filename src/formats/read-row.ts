import type { TextReading } from './dialect.js';
import { delimiterBytes } from './dialect.js';
import { readNumber, type NumberEnd } from './read-number.js';
import { createFields, skipBlanks, splitLine, type Fields } from './split-line.js';

/** Why a line inside the table did not become a row, or a cell did not become a sample. */
type RowFault = 'row-not-numeric' | 'row-width' | 'row-empty';
export type Fault = RowFault | 'cell-empty' | 'cell-not-numeric';

/** Told of each fault: bytes of the text at fault, and the column from 0 when it is about one cell. */
export type ReportFault = (fault: Fault, from: number, to: number, column?: number) => void;

/** How the lines of one table are read, and scratch space. */
export interface RowRules {
  readonly bytes: Uint8Array;
  readonly reading: TextReading;
  readonly delimiter: number;
  readonly decimal: number;
  /** [-] Column of the times, from 0. */
  readonly timeColumn: number;
  /** Column by column, where the rows read are put; a cell without a number is NaN. */
  readonly values: Float64Array[];
  readonly number: NumberEnd;
  readonly fields: Fields;
}

export function createRowRules(
  bytes: Uint8Array,
  { reading, timeColumn, columns }: { reading: TextReading; timeColumn: number; columns: number },
): RowRules {
  return {
    bytes,
    reading,
    delimiter: delimiterBytes[reading.delimiter],
    decimal: reading.decimal.charCodeAt(0),
    timeColumn,
    values: Array.from({ length: columns }, () => new Float64Array(256)),
    number: { next: 0 },
    fields: createFields(),
  };
}

/**
 * The common case, at full speed: a plain number in every field. Returns the
 * end of the line, or -1 when the line is anything else.
 */
export function readPlainRow({ bytes, delimiter, decimal, values, number }: RowRules, at: number, row: number): number {
  const { length } = bytes;
  let i = at;
  for (let c = 0; c < values.length; c++) {
    if (c > 0) {
      if (delimiter === 32 ? i === number.next : bytes[i] !== delimiter) return -1;
      if (delimiter !== 32) i++;
    }
    values[c]![row] = readNumber(bytes, skipBlanks(bytes, i, delimiter), length, decimal, number);
    if (number.next < 0) return -1;
    i = skipBlanks(bytes, number.next, delimiter);
  }
  while (delimiter !== 32 && bytes[i] === delimiter) i++;
  return i >= length || bytes[i] === 10 || bytes[i] === 13 ? i : -1;
}

/** `'text'` is a row with text in a cell, `'gap'` one with an empty cell, `'blank'` a line without any field filled. */
export type RowOutcome = RowFault | 'row' | 'text' | 'gap' | 'blank';

/**
 * Any line. It is a row when it has as many fields as the table has columns
 * (further empty ones may follow), a time and another number.
 */
export function readAnyRow(
  { bytes, reading, decimal, timeColumn, values, number, fields }: RowRules,
  start: number,
  end: number,
  row: number,
  report?: ReportFault,
): RowOutcome {
  splitLine(bytes, start, end, reading, fields);
  const { count, filled, starts, ends } = fields;
  if (filled === 0) return 'blank';
  const fault = (kind: RowFault): RowFault => {
    report?.(kind, start, end);
    return kind;
  };
  let numbers = 0;
  let hasText = false;
  for (let c = 0; c < values.length; c++) {
    const value = c < count ? readNumber(bytes, starts[c]!, ends[c]!, decimal, number) : 0;
    const isNumber = c < count && number.next === ends[c];
    values[c]![row] = isNumber ? value : Number.NaN;
    if (isNumber) numbers++;
    else hasText ||= starts[c]! < ends[c]!;
  }
  if (Number.isNaN(values[timeColumn]![row])) return fault('row-not-numeric');
  if (filled > values.length || count < values.length) return fault('row-width');
  if (numbers < 2) return fault('row-empty');
  for (let c = 0; report !== undefined && c < values.length; c++) {
    if (!Number.isNaN(values[c]![row])) continue;
    report(starts[c]! < ends[c]! ? 'cell-not-numeric' : 'cell-empty', starts[c]!, ends[c]!, c);
  }
  if (hasText) return 'text';
  return numbers < values.length ? 'gap' : 'row';
}
