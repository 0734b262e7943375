import type { TextReading } from './dialect.js';
import { clearFaults, createFaultLog, mergeFaults, noteFault, type FaultLog } from './fault-log.js';
import { createRowRules, readAnyRow, readPlainRow, type RowRules } from './read-row.js';
import { afterLineBreak, countLineBreaks, findLineEnd } from './split-line.js';

/** A table that begins inside the file: its first row. */
export interface TableStart {
  /** [-] Row, from 0. */
  readonly row: number;
  /** [-] Byte and line where the lines above it begin, and where the row begins. */
  readonly aboveAt: number;
  readonly aboveLine: number;
  readonly at: number;
  readonly line: number;
}

/** The file under one reading. */
export interface ScannedTable {
  readonly reading: TextReading;
  readonly columns: number;
  /** [-] Columns of times, from 0. */
  readonly timeColumns: readonly number[];
  /** [-] Rows used. */
  rows: number;
  /** [-] Lines that are neither blank nor rows, anywhere in the file. */
  unread: number;
  /** [-] How badly the reading fits: 2 for a line not read, 1 for a row with a time not later or with text in it. */
  cost: number;
  /** [-] Rows with text where a number should be. */
  textRows: number;
  /** Values row by row; a cell without a number is NaN. */
  values: Float64Array;
  /** [-] Line of each row, from 1. */
  lines: Uint32Array;
  /** Where tables begin; the first is that of the first row. */
  readonly starts: TableStart[];
  /** Faults between the first and the last row of a table. */
  readonly faults: FaultLog;
  /** [-] Byte and line after the last row. */
  endAt: number;
  endLine: number;
  /** Whether thousands are grouped anywhere, and whether a number shows it by itself. */
  grouped: boolean;
  groupingProven: boolean;
}

/** [-] Tables told apart in one file; further ones run into the last. */
const mostTables = 1000;

/** What {@link scanTable} goes by. */
export interface TableRules {
  readonly reading: TextReading;
  readonly columns: number;
  readonly timeColumns: readonly number[];
  /** [-] Columns expected to hold no numbers at all: their cells are not listed one by one. */
  readonly textColumns: readonly number[];
}

/** What was read since the last row. */
interface Waiting {
  /** Lines that are no rows. */
  readonly before: FaultLog;
  /** Lines after those which begin as rows and have the wrong width; they stand by the table next to them. */
  readonly misshapen: FaultLog;
  misshapenAt: number;
  misshapenLine: number;
  /** [-] First time of the table, and the time of the last row. */
  first: number;
  previous: number;
}

/**
 * Reads every line of the data under one reading; gives up, and returns
 * nothing, as soon as its cost is above `mostCost`.
 *
 * A new table begins where the time falls back to that of the first row or
 * before, after a line that is no row.
 */
export function scanTable(bytes: Uint8Array, rules: TableRules, mostCost: number): ScannedTable | undefined {
  const { length } = bytes;
  const { reading, columns } = rules;
  const row = createRowRules(bytes, reading, columns, rules.timeColumns);
  const canBePlain = reading.paired !== true && !(reading.delimiter === 'comma' && reading.decimal === ',');
  const table = emptyTable(rules);
  const waiting = nothingWaiting();
  let line = 0;
  for (let at = 0; at < length;) {
    line++;
    let inside = 0;
    const base = table.rows * columns;
    if (base + columns > table.values.length) grow(table);
    let end = canBePlain ? readPlainRow(row, at, table.values, base) : -1;
    let isRow = end >= 0;
    if (isRow) addRow(table, waiting, at, line);
    else {
      end = findLineEnd(bytes, at);
      inside = countLineBreaks(bytes, at, end);
      isRow = bookLine(table, rules, row, waiting, { line, at, end });
    }
    if (table.cost > mostCost) return undefined;
    at = afterLineBreak(bytes, end);
    line += inside;
    if (isRow) {
      table.endAt = Math.min(at, length);
      table.endLine = line + 1;
    }
  }
  takeLastLines(bytes, table, waiting);
  // A column that holds numbers after all has its faults listed too.
  if (rules.textColumns.some((c) => hasNumbers(table, c)))
    return scanTable(bytes, { ...rules, textColumns: [] }, mostCost);
  return table;
}

/** Reads and books a line that is not plain; says whether it is a row. */
function bookLine(
  table: ScannedTable,
  { textColumns, columns }: TableRules,
  row: RowRules,
  waiting: Waiting,
  { line, at, end }: { line: number; at: number; end: number },
): boolean {
  const outcome = readAnyRow(row, at, end, table.values, table.rows * columns);
  if (outcome === 'blank') return false;
  if (outcome === 'row') {
    addRow(table, waiting, at, line);
    noteCells(table, row, textColumns, line);
    return true;
  }
  table.cost += 2;
  if (outcome === 'empty row') {
    addRow(table, waiting, at, line);
    const column = table.timeColumns.includes(0) ? 2 : 1;
    noteFault(table.faults, { fault: 'row-empty', line, column, from: at, to: end });
    return true;
  }
  table.unread++;
  const event = { fault: outcome.fault, line, column: outcome.column + 1, from: at, to: end };
  if (outcome.fault === 'row-width') {
    if (waiting.misshapen.rows.size === 0) {
      waiting.misshapenAt = at;
      waiting.misshapenLine = line;
    }
    noteFault(waiting.misshapen, event);
  } else {
    mergeFaults(waiting.before, waiting.misshapen);
    noteFault(waiting.before, event);
  }
  return false;
}

/** Books the row just read into `values`. */
function addRow(table: ScannedTable, waiting: Waiting, at: number, line: number): void {
  const time = table.values[table.rows * table.columns + table.timeColumns[0]!]!;
  const afterBreak = line > table.endLine || table.rows === 0;
  if (afterBreak && table.starts.length < mostTables && (table.rows === 0 || time <= waiting.first)) {
    const own = waiting.misshapen.rows.size > 0;
    table.starts.push({
      row: table.rows,
      aboveAt: table.endAt,
      aboveLine: table.endLine,
      at: own ? waiting.misshapenAt : at,
      line: own ? waiting.misshapenLine : line,
    });
    waiting.first = time;
    waiting.previous = -Infinity;
    // Lines above a table are no rows of it.
    clearFaults(waiting.before);
  }
  if (afterBreak) {
    mergeFaults(table.faults, waiting.before);
    mergeFaults(table.faults, waiting.misshapen);
  }
  table.lines[table.rows++] = line;
  if (time > waiting.previous) waiting.previous = time;
  // A time that is absent belongs to a shorter table at the side of a longer one.
  else if (!Number.isNaN(time)) {
    table.cost++;
    waiting.previous = time;
  }
}

/** Misshapen rows right after the last row, such as a last line that was cut off, are rows left out. */
function takeLastLines(bytes: Uint8Array, table: ScannedTable, { before, misshapen }: Waiting): void {
  const last = misshapen.events.at(-1);
  if (table.rows === 0 || before.rows.size > 0 || last === undefined || misshapen.surplus.size > 0) return;
  table.endAt = Math.min(afterLineBreak(bytes, last.to), bytes.length);
  table.endLine = last.line + countLineBreaks(bytes, last.from, last.to) + 1;
  mergeFaults(table.faults, misshapen);
}

function hasNumbers({ rows, columns, values }: ScannedTable, column: number): boolean {
  for (let i = 0, j = column; i < rows; i++, j += columns) if (!Number.isNaN(values[j]!)) return true;
  return false;
}

function nothingWaiting(): Waiting {
  return {
    before: createFaultLog(),
    misshapen: createFaultLog(),
    misshapenAt: 0,
    misshapenLine: 0,
    first: Infinity,
    previous: -Infinity,
  };
}

function noteCells(
  table: ScannedTable,
  { badCells, field }: RowRules,
  textColumns: readonly number[],
  line: number,
): void {
  let text = false;
  for (const { fault, column, from, to } of badCells) {
    if (fault === 'cell-not-numeric') text = true;
    if (!textColumns.includes(column)) noteFault(table.faults, { fault, line, column: column + 1, from, to });
  }
  if (text) {
    table.textRows++;
    table.cost++;
  }
  if (field.anyGrouped) table.grouped = true;
  if (field.anyProven) table.groupingProven = true;
  field.anyGrouped = false;
  field.anyProven = false;
}

function emptyTable({ reading, columns, timeColumns }: TableRules): ScannedTable {
  return {
    reading,
    columns,
    timeColumns,
    rows: 0,
    unread: 0,
    cost: 0,
    textRows: 0,
    values: new Float64Array(columns * 256),
    lines: new Uint32Array(256),
    starts: [],
    faults: createFaultLog(),
    endAt: 0,
    endLine: 1,
    grouped: false,
    groupingProven: false,
  };
}

function grow(table: ScannedTable): void {
  const rows = table.rows * 2 + 256;
  const values = new Float64Array(rows * table.columns);
  values.set(table.values);
  table.values = values;
  const lines = new Uint32Array(rows);
  lines.set(table.lines.subarray(0, table.rows));
  table.lines = lines;
}
