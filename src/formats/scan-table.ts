import { delimiterBytes, type TextReading } from './dialect.js';
import { createFieldValue, readField } from './read-field.js';
import { readNumber } from './read-number.js';
import { afterLineBreak, createFields, findLineEnd, isBlank, mostColumns, splitLine } from './split-line.js';

/** Why a line inside the table did not become a row, or a cell did not become a sample. */
export type ScanFault = 'row-not-numeric' | 'row-width' | 'row-empty' | 'cell-empty' | 'cell-not-numeric';

/** One faulty line or cell. */
export interface ScanEvent {
  readonly fault: ScanFault;
  /** [-] Line, from 1. */
  readonly line: number;
  /** [-] Column, from 1. */
  readonly column: number;
  /** [-] First byte of the text at fault, and the one after the last. */
  readonly from: number;
  readonly to: number;
}

/** How often a fault occurred beyond the events that were kept. */
export interface ScanSurplus {
  count: number;
  lastLine: number;
}

/** The file under one reading. */
export interface ScannedTable {
  readonly reading: TextReading;
  readonly columns: number;
  readonly timeColumn: number;
  /** [-] Rows used. */
  rows: number;
  /** [-] Rows whose time is later than that of the row before. */
  increasing: number;
  /** [-] Lines that are neither blank nor a row; all lines before and after the table are among them. */
  unread: number;
  /** Values row by row; a cell without a number is NaN. */
  values: Float64Array;
  /** [-] Line of each row, from 1. */
  lines: Uint32Array;
  /** Faults between the first and the last row, in order of lines; the first {@link mostEvents}. */
  readonly events: ScanEvent[];
  readonly surplus: Map<ScanFault, ScanSurplus>;
  /** [-] Lines between the first and the last row that are not blank and not rows. */
  faultyRows: number;
  /** [-] Bytes and lines where the table begins and ends. */
  firstRowAt: number;
  firstRowLine: number;
  afterLastRow: number;
  lastRowLine: number;
  /** Whether thousands were grouped anywhere, would have been readable with grouping, and whether a number proves it. */
  grouped: boolean;
  groupingProven: boolean;
  quotedCells: boolean;
}

/** Faults kept one by one; further ones are counted. */
export const mostEvents = 1000;

/**
 * Reads every line of the data under one reading. A line is a row when it has
 * `columns` fields (empty ones at the end may be missing or too many), a number
 * in the time column and at least one other number. Gives up, and returns
 * nothing, as soon as more than `mostMisses` lines are not rows with a later time.
 */
export function scanTable(
  bytes: Uint8Array,
  reading: TextReading,
  columns: number,
  timeColumn: number,
  mostMisses: number,
): ScannedTable | undefined {
  const { length } = bytes;
  const delimiter = delimiterBytes[reading.delimiter];
  const blanks = reading.delimiter === 'blanks';
  const decimal = reading.decimal === '.' ? 46 : 44;
  const plainRows = reading.paired !== true && !(reading.delimiter === 'comma' && reading.decimal === ',');
  const field = createFieldValue();
  const fields = createFields();
  const table: ScannedTable = {
    reading,
    columns,
    timeColumn,
    rows: 0,
    increasing: 0,
    unread: 0,
    values: new Float64Array(columns * 1024),
    lines: new Uint32Array(1024),
    events: [],
    surplus: new Map(),
    faultyRows: 0,
    firstRowAt: 0,
    firstRowLine: 0,
    afterLastRow: 0,
    lastRowLine: 0,
    grouped: false,
    groupingProven: false,
    quotedCells: false,
  };
  const pending: ScanEvent[] = [];
  const pendingSurplus = new Map<ScanFault, ScanSurplus>();
  let pendingRows = 0;
  let previous = -Infinity;
  let misses = 0;
  let line = 0;
  let at = 0;
  while (at < length) {
    line++;
    const base = table.rows * columns;
    if (base + columns > table.values.length) grow(table);
    const { values } = table;
    let end = plainRows ? readPlainRow(base) : -1;
    if (end < 0) {
      end = findLineEnd(bytes, at);
      const outcome = readSlowRow(at, end, base);
      if (outcome === 'blank') {
        at = afterLineBreak(bytes, end);
        continue;
      }
      if (outcome === 'miss') {
        table.unread++;
        pendingRows++;
        if (++misses > mostMisses) return undefined;
        at = afterLineBreak(bytes, end);
        continue;
      }
    }
    if (table.rows === 0) {
      table.firstRowAt = at;
      table.firstRowLine = line;
      // Lines before the first row are no rows: header, preamble.
      pending.length = keepFrom(pending, line);
      pendingSurplus.clear();
      pendingRows = 0;
    }
    if (pending.length > 0 || pendingSurplus.size > 0) flush();
    table.faultyRows += pendingRows;
    pendingRows = 0;
    table.lines[table.rows++] = line;
    table.lastRowLine = line;
    const time = values[base + timeColumn]!;
    if (time > previous) {
      table.increasing++;
    } else if (++misses > mostMisses) return undefined;
    previous = time;
    at = afterLineBreak(bytes, end);
    table.afterLastRow = Math.min(at, length);
  }
  return table;

  /** The common case: plain numbers in every field. Returns the end of the line, or -1. */
  function readPlainRow(base: number): number {
    const { values } = table;
    let i = at;
    for (let c = 0; c < columns; c++) {
      while (i < length && (bytes[i] === 32 || (blanks && bytes[i] === 9))) i++;
      const value = readNumber(bytes, i, length, decimal, field);
      if (field.next < 0) return -1;
      values[base + c] = value;
      i = field.next;
      if (c === columns - 1) break;
      if (blanks) {
        if (i >= length || !isBlank(bytes[i]!)) return -1;
      } else {
        while (bytes[i] === 32) i++;
        if (bytes[i] !== delimiter) return -1;
        i++;
      }
    }
    while (i < length && (bytes[i] === 32 || (blanks && bytes[i] === 9))) i++;
    return i >= length ? length : bytes[i] === 10 || bytes[i] === 13 ? i : -1;
  }

  /** Any other line; records what is wrong with it. */
  function readSlowRow(start: number, end: number, base: number): 'row' | 'miss' | 'blank' {
    splitLine(bytes, start, end, delimiter, fields);
    let count = fields.count;
    if (count > mostColumns) {
      note('row-width', 0, start, end);
      return 'miss';
    }
    while (count > 0 && fields.starts[count - 1]! >= fields.ends[count - 1]!) count--;
    if (count === 0) return 'blank';
    if (reading.paired === true) {
      if (!pairFields(count)) {
        note('row-width', 0, start, end);
        return 'miss';
      }
      count /= 2;
    }
    const marked = pending.length;
    const { values } = table;
    let numbers = 0;
    for (let c = 0; c < columns; c++) {
      const from = c < count ? fields.starts[c]! : end;
      const to = c < count ? fields.ends[c]! : end;
      const value = readField(bytes, from, to, reading, !blanks && reading.delimiter !== 'comma', field);
      values[base + c] = value;
      if (field.kind === 'number') {
        numbers++;
        if (field.grouped) table.grouped = true;
        if (field.groupingProven) table.groupingProven = true;
        if (c < count && fields.quoted[c]!) table.quotedCells = true;
      } else if (c === timeColumn) {
        pending.length = Math.min(pending.length, marked);
        note('row-not-numeric', c, from, to);
        return 'miss';
      } else note(field.kind === 'empty' ? 'cell-empty' : 'cell-not-numeric', c, from, to);
    }
    if (numbers < 2 && columns > 1) {
      pending.length = Math.min(pending.length, marked);
      note('row-empty', timeColumn === 0 ? 1 : 0, start, end);
      return 'miss';
    }
    if (count > columns || fields.count < columns) {
      pending.length = Math.min(pending.length, marked);
      note('row-width', Math.min(count, columns), start, end);
      return 'miss';
    }
    return 'row';
  }

  /** Joins every two pieces, each of digits alone, into one number. */
  function pairFields(count: number): boolean {
    if (count % 2 === 1) return false;
    for (let c = 0; c < count; c += 2) {
      const from = fields.starts[c]!;
      const to = fields.ends[c + 1]!;
      if (fields.ends[c]! + 1 !== fields.starts[c + 1]! || !isDigit(bytes[fields.starts[c + 1]!]!)) return false;
      if (fields.quoted[c]! || fields.quoted[c + 1]!) return false;
      fields.starts[c / 2] = from;
      fields.ends[c / 2] = to;
      fields.quoted[c / 2] = false;
    }
    fields.count = count / 2;
    return true;
  }

  function note(fault: ScanFault, column: number, from: number, to: number): void {
    if (table.events.length + pending.length < mostEvents) {
      pending.push({ fault, line, column: column + 1, from, to });
    } else {
      const surplus = pendingSurplus.get(fault) ?? { count: 0, lastLine: 0 };
      surplus.count++;
      surplus.lastLine = line;
      pendingSurplus.set(fault, surplus);
    }
  }

  function flush(): void {
    table.events.push(...pending);
    pending.length = 0;
    for (const [fault, { count, lastLine }] of pendingSurplus) {
      const surplus = table.surplus.get(fault) ?? { count: 0, lastLine: 0 };
      table.surplus.set(fault, { count: surplus.count + count, lastLine });
    }
    pendingSurplus.clear();
  }
}

/** Moves the events of a line to the front and says how many there are. */
function keepFrom(events: ScanEvent[], line: number): number {
  let kept = 0;
  for (const event of events) if (event.line >= line) events[kept++] = event;
  return kept;
}

function grow(table: ScannedTable): void {
  const values = new Float64Array(Math.max(table.values.length * 2, (table.rows + 1) * table.columns));
  values.set(table.values);
  table.values = values;
  const rows = Math.ceil(values.length / table.columns) + 1;
  const lines = new Uint32Array(rows);
  lines.set(table.lines.subarray(0, table.rows));
  table.lines = lines;
}

function isDigit(byte: number): boolean {
  return byte >= 48 && byte <= 57;
}
