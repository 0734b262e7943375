import type { ColumnHeader } from './column-header.js';
import { delimiterBytes, type TextReading } from './dialect.js';
import { draftTable, type Draft } from './draft-table.js';
import type { FileOptions } from './file-options.js';
import { scanTable, type ScannedTable, type TableRules } from './scan-table.js';
import { findHeader, type TableHeader } from './table-header.js';

/** The file under one reading, with what stands above the columns. */
export interface ReadTable extends TableRules, ScannedTable {
  readonly header: TableHeader | undefined;
  /** One for each column, empty where the header names none. */
  readonly heads: readonly ColumnHeader[];
  /** Whether the column of times is the one asked for, or one the header calls so. */
  readonly hasNamedTimes: boolean;
}

/**
 * Finds the reading that fits the whole file best: it leaves the fewest lines
 * unread, has the fewest rows whose time is not later than that of the row
 * before, and the fewest rows with text between the numbers. The best comes
 * first; after it others that fit as well and give other numbers.
 *
 * The first lines order the readings and give their number of columns. Each
 * is then tried on the whole file, and given up once it fits worse than the
 * best one so far.
 */
export function inferReading(bytes: Uint8Array, { delimiter, decimal, timeColumn }: FileOptions): ReadTable[] {
  const delimiters = Object.keys(delimiterBytes) as TextReading['delimiter'][];
  const drafts = delimiters
    .flatMap((by) => (['.', ','] as const).map((mark) => ({ delimiter: by, decimal: mark })))
    .filter((r) => (delimiter ?? r.delimiter) === r.delimiter && (decimal ?? r.decimal) === r.decimal)
    .flatMap((reading) => draftTable(bytes, reading) ?? [])
    .sort((a, b) => b.score - a.score);
  const tables: ReadTable[] = [];
  let mostCost = Infinity;
  for (const draft of drafts) {
    const table = readTable(bytes, draft, timeColumn, mostCost);
    if (table === undefined || table.rows < 2) continue;
    tables.push(table);
    mostCost = Math.min(mostCost, table.cost + table.rows / 10);
  }
  tables.sort((a, b) => a.cost - b.cost || a.misfits - b.misfits);
  const [best] = tables;
  // Joining pieces in pairs makes times that increase more easily, so a few rows do not settle it.
  return tables.filter(
    (table, k) =>
      table.misfits <= best!.misfits &&
      table.cost <= best!.cost + best!.rows / 10 &&
      !tables.slice(0, k).some((other) => hasSameNumbers(other, table)),
  );
}

/** Reads the whole file as the draft says, with the times where the caller or the header says. */
function readTable(
  bytes: Uint8Array,
  draft: Draft,
  asked: string | number | undefined,
  mostCost: number,
): ReadTable | undefined {
  const { reading, numbers, score } = draft;
  const usual = Math.max(
    0,
    numbers.findIndex((n) => n * 2 >= score),
  );
  const top = scanTable(bytes, { ...draft, timeColumn: usual }, { mostRows: 2 });
  if (top.rows < 2) return undefined;
  const header = findHeader(bytes, top.from, draft);
  const found = header?.heads ?? [];
  const columns = Math.max(draft.columns, found.length);
  const heads = Array.from({ length: columns }, (_, c) => found[c] ?? { text: '', name: '', isTime: false });
  const named =
    typeof asked === 'number'
      ? asked - 1
      : heads.findIndex(({ text, name, isTime }, c) =>
          asked === undefined ? isTime && numbers[c] !== undefined : text === asked || name === asked,
        );
  const hasNamedTimes = heads[named] !== undefined;
  const rules = {
    reading,
    columns,
    timeColumn: hasNamedTimes ? named : usual,
    below: header && top.from,
    skipped: header?.lines ?? 0,
  };
  return { ...rules, ...scanTable(bytes, rules, { mostCost }), header, heads, hasNamedTimes };
}

function hasSameNumbers(a: ReadTable, b: ReadTable): boolean {
  if (a.rows !== b.rows || a.columns !== b.columns) return false;
  return a.values.every((column, c) => column.every((value, i) => i >= a.rows || Object.is(value, b.values[c]![i])));
}
