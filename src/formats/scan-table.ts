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

/**
 * Reads every line of the data under one reading; gives up, and returns
 * nothing, as soon as its cost is above `mostCost`.
 *
 * A new table begins where the time falls back to that of the first row or
 * before, after a line that is no row.
 */
export function scanTable(
  bytes: Uint8Array,
  reading: TextReading,
  columns: number,
  timeColumns: readonly number[],
  mostCost: number,
): ScannedTable | undefined {
  const { length } = bytes;
  const rules = createRowRules(bytes, reading, columns, timeColumns);
  const canBePlain = reading.paired !== true && !(reading.delimiter === 'comma' && reading.decimal === ',');
  const table = emptyTable(reading, columns, timeColumns);
  const waiting = createFaultLog();
  const order = { first: Infinity, previous: -Infinity };
  let line = 0;
  for (let at = 0; at < length;) {
    line++;
    const base = table.rows * columns;
    if (base + columns > table.values.length) grow(table);
    let inside = 0;
    let end = canBePlain ? readPlainRow(rules, at, table.values, base) : -1;
    if (end < 0) {
      end = findLineEnd(bytes, at);
      inside = countLineBreaks(bytes, at, end);
      const outcome = readAnyRow(rules, at, end, table.values, base);
      if (outcome === 'row') noteCells(table, rules, waiting, line);
      else if (outcome !== 'blank') {
        table.unread++;
        table.cost += 2;
        noteFault(waiting, { fault: outcome.fault, line, column: outcome.column + 1, from: at, to: end });
      }
      if (outcome !== 'row') {
        if (table.cost > mostCost) return undefined;
        at = afterLineBreak(bytes, end);
        line += inside;
        continue;
      }
    }
    addRow(table, waiting, order, at, line);
    if (table.cost > mostCost) return undefined;
    at = afterLineBreak(bytes, end);
    table.endAt = Math.min(at, length);
    line += inside;
    table.endLine = line + 1;
  }
  return table;
}

/** Books the row just read into `values`. */
function addRow(
  table: ScannedTable,
  waiting: FaultLog,
  order: { first: number; previous: number },
  at: number,
  line: number,
): void {
  const time = table.values[table.rows * table.columns + table.timeColumns[0]!]!;
  const afterBreak = line > table.endLine || table.rows === 0;
  if (afterBreak && table.starts.length < mostTables && (table.rows === 0 || time <= order.first)) {
    table.starts.push({ row: table.rows, aboveAt: table.endAt, aboveLine: table.endLine, at, line });
    order.first = time;
    order.previous = -Infinity;
    keepOwnCells(waiting, line);
  }
  if (waiting.events.length > 0 || waiting.surplus.size > 0) mergeFaults(table.faults, waiting);
  table.lines[table.rows++] = line;
  if (time > order.previous) order.previous = time;
  // A time that is absent belongs to a shorter table at the side of a longer one.
  else if (!Number.isNaN(time)) {
    table.cost++;
    order.previous = time;
  }
}

/** Lines above a table are no rows of it: forget their faults, not those of the row itself. */
function keepOwnCells(waiting: FaultLog, line: number): void {
  const own = waiting.events.filter((event) => event.line === line);
  clearFaults(waiting);
  for (const event of own) noteFault(waiting, event);
}

function noteCells(table: ScannedTable, { badCells, field }: RowRules, waiting: FaultLog, line: number): void {
  let text = false;
  for (const { fault, column, from, to } of badCells) {
    if (fault === 'cell-not-numeric') text = true;
    noteFault(waiting, { fault, line, column: column + 1, from, to });
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

function emptyTable(reading: TextReading, columns: number, timeColumns: readonly number[]): ScannedTable {
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
