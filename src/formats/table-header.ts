import { isUnitsRow, parseColumnHeader, type ColumnHeader } from './column-header.js';
import { decodePart } from './diagnostic.js';
import type { Draft } from './draft-table.js';
import { listLines, type LinePlace } from './outside-lines.js';
import { createFields, splitLine } from './split-line.js';

/** The header of a table. */
export interface TableHeader {
  readonly heads: readonly ColumnHeader[];
  /** [-] Its first byte. */
  readonly start: number;
  /** [-] Lines that are not blank down to its last. */
  readonly lines: number;
}

/**
 * Looks for the header in the two lines above the first row: a line with as
 * many fields as the table has columns, or that line with a row of units under it.
 */
export function findHeader(bytes: Uint8Array, firstRow: number, draft: Draft): TableHeader | undefined {
  const above = listLines(bytes, 0, firstRow);
  const last = above.slice(-2).reverse();
  const [cells, names] = last.map((place) => headerCells(bytes, place, draft));
  if (cells === undefined) return undefined;
  const withUnits = names !== undefined && isUnitsRow(cells);
  return {
    heads: withUnits
      ? names.map((name, c) => parseColumnHeader(name, cells[c]))
      : cells.map((cell) => parseColumnHeader(cell)),
    start: last[withUnits ? 1 : 0]!.start,
    lines: above.length,
  };
}

/** The fields of a header line, when there are as many as columns. */
function headerCells(bytes: Uint8Array, { start, end }: LinePlace, draft: Draft): string[] | undefined {
  const { columns, width } = draft;
  const { delimiter, decimal } = draft.reading;
  // A mark of comment before the first name is not part of it.
  const from = start + (/^[ \t]*(?:#|%|\/\/) *(?=[^\s,;])/.exec(decodePart(bytes, start, end))?.[0].length ?? 0);
  const fields = createFields();
  splitLine(bytes, from, end, { delimiter, decimal }, fields);
  const cells = Array.from({ length: Math.max(fields.filled, Math.min(fields.count, columns)) }, (_, c) =>
    decodePart(bytes, fields.starts[c]!, fields.ends[c]!).replaceAll('""', '"'),
  );
  const splits = [cells];
  // Names with blanks in them, in a table parted by blanks: wide blanks part names, or brackets close them.
  if (delimiter === 'blanks') {
    const text = decodePart(bytes, from, end).trim();
    splits.push(text.split(/\t+| {2,}/), text.split(/\s+(?![\s[({])/));
  }
  return splits.find(({ length }) => length >= columns && length <= width);
}
