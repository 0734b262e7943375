import type { ColumnHeader } from './column-header.js';
import type { Diagnostic } from './diagnostic.js';
import { noteFault } from './fault-log.js';
import { lineText, listLines, mostLines, type FileLine, type LinePlace } from './preamble.js';
import type { ScannedTable } from './scan-table.js';
import { findLineEnd } from './split-line.js';
import { findHeader } from './table-header.js';
import type { TablePart } from './table-traces.js';

/** The tables of a file, and the lines around them. */
export interface DividedTable {
  readonly parts: readonly TablePart[];
  readonly metadata: readonly FileLine[];
  /** [-] Rows with a time alone that belong to no part. */
  readonly emptyOutside: number;
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Parts the rows into tables, each with its header, or with that of the table
 * before. One row by itself is no table: it is diagnosed.
 */
export function divideTable(bytes: Uint8Array, table: ScannedTable): DividedTable {
  const parts: TablePart[] = [];
  const outside: LinePlace[] = [];
  let lines = 0;
  let emptyOutside = 0;
  let heads: readonly ColumnHeader[] = unnamed(table);
  let headerLine: number | undefined;
  table.starts.forEach((start, k) => {
    const above = listLines(bytes, start.aboveAt, start.at, start.aboveLine);
    const header = findHeader(bytes, above.last, table.reading, table.columns);
    if (header !== undefined) {
      heads = header.columns;
      headerLine = header.lines[0];
    }
    lines += above.count - (header?.lines.length ?? 0);
    outside.push(...above.kept.filter(({ line }) => header?.lines.includes(line) !== true));
    const to = table.starts[k + 1]?.row ?? table.rows;
    if (to - start.row > 1) {
      parts.push({ from: start.row, to, heads, ...(headerLine === undefined ? {} : { headerLine }) });
    } else if (countNumbers(table, start.row) < 2) emptyOutside++;
    else {
      const line = table.lines[start.row]!;
      const place = { line, column: 1, from: start.at, to: findLineEnd(bytes, start.at) };
      noteFault(table.faults, { fault: 'row-outside-table', ...place });
    }
  });
  const below = listLines(bytes, table.endAt, bytes.length, table.endLine);
  outside.push(...below.kept);
  lines += below.count;
  const metadata = outside.slice(0, mostLines).map((place) => lineText(bytes, place));
  return { parts, metadata, emptyOutside, diagnostics: lines > metadata.length ? [cut(lines, metadata.length)] : [] };
}

function cut(lines: number, kept: number): Diagnostic {
  return {
    code: 'metadata-cut',
    message: `Of ${lines} lines outside the tables the first ${kept} are kept in metadata.`,
    action: 'noted',
    rows: 0,
  };
}

/** [-] Numbers in a row. */
function countNumbers({ columns, values }: ScannedTable, row: number): number {
  return values.subarray(row * columns, (row + 1) * columns).reduce((n, value) => n + (Number.isNaN(value) ? 0 : 1), 0);
}

function unnamed({ columns, timeColumns }: ScannedTable): ColumnHeader[] {
  return Array.from({ length: columns }, (_, c) => ({
    text: '',
    name: `column ${c + 1}`,
    isTime: timeColumns.includes(c),
  }));
}
