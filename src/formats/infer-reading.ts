import { delimiterBytes, readings, withGrouping, type TextReading } from './dialect.js';
import { createFieldValue, readField } from './read-field.js';
import { scanTable, type ScannedTable } from './scan-table.js';
import { afterLineBreak, createFields, findLineEnd, mostColumns, splitLine } from './split-line.js';

/** What the caller has settled. */
export interface StatedReading {
  readonly delimiter: TextReading['delimiter'] | undefined;
  readonly decimal: TextReading['decimal'] | undefined;
  /** Name, or number from 1, of the column of times. */
  readonly timeColumn: string | number | undefined;
}

/** The best reading, and others that are as good but give other numbers. */
export interface InferredReading {
  readonly table: ScannedTable | undefined;
  readonly rivals: readonly ScannedTable[];
}

const fewLines = 400;
const manyLines = 20_000;

/**
 * Finds the reading under which most lines are rows with a later time than the
 * row before. A sample of lines orders the readings and gives their number of
 * columns; then each is tried on the whole file, and given up once it has
 * missed more lines than the best one so far.
 */
export function inferReading(bytes: Uint8Array, stated: StatedReading): InferredReading {
  const candidates = readings.filter(
    (reading) =>
      (stated.delimiter === undefined || reading.delimiter === stated.delimiter) &&
      (stated.decimal === undefined || reading.decimal === stated.decimal),
  );
  let lines = sampleLines(bytes, fewLines);
  let drafts = draft(bytes, lines, candidates, stated);
  if (drafts.length === 0) {
    lines = sampleLines(bytes, manyLines);
    drafts = draft(bytes, lines, candidates, stated);
  }
  const tables: ScannedTable[] = [];
  let fewest = Infinity;
  for (const { reading, columns, timeColumn } of drafts) {
    const table = scanTable(bytes, reading, columns, timeColumn, fewest);
    if (table === undefined || table.rows < 2 || (table.grouped && !isGroupingSure(table))) continue;
    tables.push(table);
    fewest = Math.min(fewest, missesOf(table));
  }
  tables.sort((a, b) => missesOf(a) - missesOf(b) || a.unread - b.unread);
  const best = tables[0];
  if (best === undefined) return { table: undefined, rivals: [] };
  const rivals: ScannedTable[] = [];
  for (const other of tables.slice(1)) {
    if (missesOf(other) > missesOf(best) || other.unread > best.unread) continue;
    if (!sameNumbers(best, other)) rivals.push(other);
  }
  return { table: best, rivals };
}

function missesOf(table: ScannedTable): number {
  return table.unread + table.rows - table.increasing;
}

/** Grouping is believed only when some number cannot be read otherwise. */
function isGroupingSure(table: ScannedTable): boolean {
  return table.groupingProven;
}

function sameNumbers(a: ScannedTable, b: ScannedTable): boolean {
  if (a.rows !== b.rows || a.columns !== b.columns) return false;
  for (let i = 0; i < a.rows * a.columns; i++) if (!Object.is(a.values[i], b.values[i])) return false;
  return true;
}

interface Draft {
  readonly reading: TextReading;
  readonly columns: number;
  readonly timeColumn: number;
  readonly score: number;
}

function draft(
  bytes: Uint8Array,
  lines: readonly (readonly [number, number])[],
  candidates: readonly TextReading[],
  stated: StatedReading,
): Draft[] {
  const drafts: Draft[] = [];
  for (const plain of candidates) {
    const variants = plain.paired === true ? [plain] : [plain, withGrouping(plain)];
    for (const reading of variants) {
      const found = draftOne(bytes, lines, reading, stated);
      const before = drafts.at(-1);
      // Grouping that changes nothing on the sample is left to the plain reading.
      if (
        found !== undefined &&
        !(reading.grouping !== undefined && before?.reading === plain && before.score >= found.score)
      ) {
        drafts.push(found);
      }
    }
  }
  return drafts.sort((a, b) => b.score - a.score);
}

function draftOne(
  bytes: Uint8Array,
  lines: readonly (readonly [number, number])[],
  reading: TextReading,
  stated: StatedReading,
): Draft | undefined {
  const fields = createFields();
  const field = createFieldValue();
  const delimiter = delimiterBytes[reading.delimiter];
  const timeColumn = typeof stated.timeColumn === 'number' ? stated.timeColumn - 1 : 0;
  const counts = new Map<number, number>();
  for (const [start, end] of lines) {
    splitLine(bytes, start, end, delimiter, fields);
    const pieces = reading.paired === true ? fields.count / 2 : fields.count;
    if (!Number.isInteger(pieces) || pieces < 2 || pieces > mostColumns || timeColumn >= pieces) continue;
    let numbers = 0;
    let timeIsNumber = false;
    for (let c = 0; c < fields.count; c++) {
      readField(bytes, fields.starts[c]!, fields.ends[c]!, reading, delimiter !== 44 && delimiter !== 32, field);
      if (field.kind === 'number') numbers++;
      if (c === timeColumn) timeIsNumber = field.kind === 'number';
    }
    if (timeIsNumber && numbers >= 2) counts.set(pieces, (counts.get(pieces) ?? 0) + 1);
  }
  let columns = 0;
  let score = 0;
  for (const [pieces, count] of counts) {
    if (count > score) {
      columns = pieces;
      score = count;
    }
  }
  return score === 0 ? undefined : { reading, columns, timeColumn, score };
}

/** Lines spread over the file: all of them when they are few. */
function sampleLines(bytes: Uint8Array, most: number): (readonly [number, number])[] {
  const lines: (readonly [number, number])[] = [];
  let next = 0;
  for (let k = 0; k < most && next < bytes.length; k++) {
    const wanted = Math.floor((k * bytes.length) / most);
    if (next < wanted) {
      // Land inside a line, then take the one after it.
      next = wanted;
      while (next < bytes.length && bytes[next] !== 10 && bytes[next] !== 13) next++;
      next = afterLineBreak(bytes, next);
    }
    if (next >= bytes.length) break;
    const end = findLineEnd(bytes, next);
    lines.push([next, end]);
    next = afterLineBreak(bytes, end);
  }
  return lines;
}
