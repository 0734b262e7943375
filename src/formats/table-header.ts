import { parseColumnHeader, isUnitsRow, type ColumnHeader } from './column-header.js';
import { decodePart } from './diagnostic.js';
import { delimiterBytes, type TextReading } from './dialect.js';
import type { LinePlace } from './preamble.js';
import { createFieldValue, readField } from './read-field.js';
import { afterLineBreak, createFields, findLineEnd, splitLine } from './split-line.js';

/** The header of a table, and the lines it took. */
export interface TableHeader {
  readonly columns: readonly ColumnHeader[];
  readonly lines: readonly number[];
}

/**
 * Looks for the header in the two lines above the first row: a line with as
 * many fields as the table has columns, or that line with a row of units under it.
 */
export function findHeader(
  bytes: Uint8Array,
  above: readonly LinePlace[],
  reading: TextReading,
  columns: number,
): TableHeader | undefined {
  const last = above.at(-1);
  if (last === undefined) return undefined;
  const cells = headerCells(bytes, last, reading, columns);
  if (cells === undefined) return undefined;
  const before = above.at(-2);
  if (isUnitsRow(cells) && before !== undefined) {
    const names = headerCells(bytes, before, reading, columns);
    if (names !== undefined) {
      return {
        columns: names.map((name, c) => parseColumnHeader(name, cells[c])),
        lines: [before.line, last.line],
      };
    }
  }
  return { columns: cells.map((cell) => parseColumnHeader(cell)), lines: [last.line] };
}

/** [-] Lines from the top among which the first row is looked for. */
const topLines = 5000;

/** The header above the first line of the file that looks like a row. */
export function findTopHeader(
  bytes: Uint8Array,
  reading: TextReading,
  columns: number,
): readonly ColumnHeader[] | undefined {
  const fields = createFields();
  const field = createFieldValue();
  let above: LinePlace[] = [];
  for (let at = 0, line = 1; at < bytes.length && line <= topLines; line++) {
    const end = findLineEnd(bytes, at);
    splitLine(bytes, at, end, delimiterBytes[reading.delimiter], fields);
    if (fields.count >= columns) {
      let numbers = 0;
      for (let c = 0; c < fields.count; c++) {
        readField(bytes, fields.starts[c]!, fields.ends[c]!, reading, true, field);
        if (field.kind === 'number') numbers++;
      }
      if (numbers * 2 >= columns && numbers > 1) return findHeader(bytes, above, reading, columns)?.columns;
    }
    if (end > at) above = [...above.slice(-1), { line, start: at, end }];
    at = afterLineBreak(bytes, end);
  }
  return undefined;
}

/** The fields of a header line, when there are as many as columns. */
export function headerCells(
  bytes: Uint8Array,
  { start, end }: LinePlace,
  reading: TextReading,
  columns: number,
): string[] | undefined {
  if (end - start > 1_000_000) return undefined;
  const fields = createFields();
  splitLine(bytes, start, end, delimiterBytes[reading.delimiter], fields);
  const cells: string[] = [];
  for (let c = 0; c < fields.count; c++) {
    cells.push(decodePart(bytes, fields.starts[c]!, fields.ends[c]!).replaceAll('""', '"'));
  }
  // A mark of comment before the first name is not part of it.
  if (reading.delimiter === 'blanks' && /^(?:#|%|\/\/)$/.test(cells[0] ?? '')) cells.shift();
  else if (cells.length > 0) cells[0] = cells[0]!.replace(/^(?:#|%|\/\/)\s*(?=.)/, '');
  while (cells.length > columns && cells.at(-1) === '') cells.pop();
  if (cells.length === columns) return cells;
  return reading.delimiter === 'blanks' ? wordsOf(decodePart(bytes, start, end), columns) : undefined;
}

/** Names with blanks in them, in a table parted by blanks: wide blanks part names, or brackets close them. */
function wordsOf(line: string, columns: number): string[] | undefined {
  const text = line.replace(/^\s*(?:#|%|\/\/)/, '').trim();
  for (const words of [text.split(/\t+| {2,}/), text.replaceAll(/\s+(?=[[(])/g, '\u0000').split(/\s+/)]) {
    if (words.length === columns) return words.map((word) => word.replaceAll('\u0000', ' '));
  }
  return undefined;
}
