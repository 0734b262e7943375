import type { TextReading } from './dialect.js';
import { createRowRules, readAnyRow, readPlainRow, type ReportFault, type RowOutcome } from './read-row.js';
import { afterLineBreak, findLineEnd } from './split-line.js';

/** Where a table is looked for, and how its lines are read. */
export interface TableRules {
  readonly reading: TextReading;
  readonly columns: number;
  /** [-] Column of the times, from 0. */
  readonly timeColumn: number;
  /** [-] Byte of the first line below the header, if there is one: the table begins there, whatever the line holds. */
  readonly below?: number | undefined;
  /** [-] Lines above that one. */
  readonly skipped?: number;
}

/** A time that is not after the one before it. */
interface LateRow {
  readonly at: number;
  readonly time: number;
  readonly previous: number;
}

/** The file under one reading. */
export interface ScannedTable {
  /** [-] Rows with a time, whether or not with a reading. */
  rows: number;
  /** Values column by column; a cell without a number is NaN. */
  readonly values: Float64Array[];
  /** [-] Lines that do not fit: 2 for a line that is no row or one without a reading, 1 for a row with text in it. */
  misfits: number;
  /** [-] `misfits`, and 1 for each row whose time is not after that of the row before. */
  cost: number;
  /** The first row with the same time as the one before, and the first with an earlier one, by the option for it. */
  duplicateTimes?: LateRow;
  backwardTimes?: LateRow;
  /** Whether every line below the header is blank or has a number in every field. */
  isClean: boolean;
  /** [-] First byte of the table, and the one after the last. */
  from: number;
  to: number;
}

/** What {@link scanTable} may stop at, and who is told of faults. */
export interface ScanLimits {
  readonly mostCost?: number;
  readonly mostRows?: number;
  readonly end?: number;
  readonly report?: ReportFault;
}

/**
 * Reads every line under one reading, until a limit is passed.
 *
 * Without a header the table begins at its first row, or at lines with a time
 * right before it. Numbers in a preamble do not count: a single row, followed by
 * other lines and then by an earlier time, is none.
 */
export function scanTable(
  bytes: Uint8Array,
  rules: TableRules,
  { mostCost = Infinity, mostRows = Infinity, end = bytes.length, report }: ScanLimits = {},
): ScannedTable {
  const { below, skipped = 0 } = rules;
  const row = createRowRules(bytes, rules);
  // A comma that is both marks is told apart by quotes, or by counting.
  const canBePlain = row.delimiter !== row.decimal;
  const cost = 2 * skipped;
  const table: ScannedTable = {
    rows: 0,
    values: row.values,
    misfits: cost,
    cost,
    isClean: true,
    from: below ?? 0,
    to: 0,
  };
  /** First of the lines with a time that follow each other up to this one. */
  let runStart = -1;
  let next = table.from;
  while (next < end && table.rows < mostRows && table.cost <= mostCost) {
    const at = next;
    let lineEnd = canBePlain ? readPlainRow(row, at, table.rows) : -1;
    let outcome: RowOutcome = 'row';
    if (lineEnd < 0) {
      lineEnd = findLineEnd(bytes, at);
      outcome = readAnyRow(row, at, lineEnd, table.rows, report);
      table.isClean &&= outcome === 'row' || outcome === 'blank';
      const misfit = misfitOf(outcome);
      table.misfits += misfit;
      table.cost += misfit;
    }
    next = afterLineBreak(bytes, lineEnd);
    if (outcome === 'blank') continue;
    if (outcome === 'row-not-numeric') {
      runStart = -1;
      continue;
    }
    if (runStart < 0) runStart = at;
    // A line with the wrong number of fields right after the last row may be one that was cut off.
    if (outcome !== 'row-width') addRow(table, rules, at, runStart);
    else if (runStart >= table.to) continue;
    table.to = next;
  }
  return table;
}

/** How much a line speaks against the reading: a row that does not fit more than a line of text. */
function misfitOf(outcome: RowOutcome): number {
  return outcome.startsWith('row-') ? 2 : outcome === 'text' ? 1 : 0;
}

/** Counts the row just read, which is the first of all when what came before was none. */
function addRow(table: ScannedTable, { below, timeColumn }: TableRules, at: number, runStart: number): void {
  const time = table.values[timeColumn]![table.rows]!;
  let previous = table.rows > 0 ? table.values[timeColumn]![table.rows - 1]! : -Infinity;
  if (below === undefined) {
    if (table.rows === 1 && runStart >= table.to && time <= previous) {
      for (const column of table.values) column[0] = column[1]!;
      table.rows = 0;
      previous = -Infinity;
    }
    if (table.rows === 0) table.from = runStart;
  }
  if (time <= previous) {
    table.cost++;
    table[time === previous ? 'duplicateTimes' : 'backwardTimes'] ??= { at, time, previous };
  }
  if (++table.rows === table.values[0]!.length) table.values.forEach((column, c) => (table.values[c] = grow(column)));
}

function grow(column: Float64Array): Float64Array {
  const longer = new Float64Array(column.length * 2);
  longer.set(column);
  return longer;
}
