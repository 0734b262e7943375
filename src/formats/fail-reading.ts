import { PeakwrightError } from '../core/index.js';
import { excerptOf } from './diagnostic.js';
import { delimiterBytes, describeReading, optionsOf, type TextReading } from './dialect.js';
import { inferReading, type StatedReading } from './infer-reading.js';
import { fileDetail, opening, type Source } from './locate.js';
import { listLines } from './preamble.js';
import { createFieldValue, readField } from './read-field.js';
import type { ScannedTable } from './scan-table.js';
import { createFields, splitLine } from './split-line.js';
import { findTopHeader } from './table-header.js';

/** Throws `reading-ambiguous` with the readings, their first rows and the options that choose them. */
export function failAmbiguous(source: Source, tables: readonly ScannedTable[]): never {
  const candidates = tables.map(
    ({ reading, values, columns }) =>
      `${describeReading(reading)} (first row ${Array.from(values.subarray(0, Math.min(columns, 4))).join(' | ')})`,
  );
  const choices = tables.map(({ reading }) => optionsOf(reading));
  throw new PeakwrightError(
    'reading-ambiguous',
    `${opening(source)}, line ${tables[0]!.starts[0]!.line}, fits ${tables.length} readings equally well: ${candidates.join('; ')}. Pass one of ${choices.join(', ')}.`,
    { ...fileDetail(source), row: tables[0]!.starts[0]!.line, field: 'delimiter', candidates },
  );
}

/** Throws `column-unknown` when the column of times asked for is not there, else `table-not-found`. */
export function failNoTable(source: Source, bytes: Uint8Array, stated: StatedReading): never {
  if (stated.timeColumn !== undefined) failTimeColumn(source, bytes, stated);
  const { kept } = listLines(bytes, 0, bytes.length, 1);
  // One line from the first few dozen: far enough down to be past a preamble.
  const line = kept[Math.min(kept.length, 50) - 1];
  const tried =
    stated.delimiter === undefined && stated.decimal === undefined
      ? 'no delimiter and decimal mark give'
      : 'the delimiter and decimal mark asked for do not give';
  const start = `${opening(source)} holds no table of numbers: ${tried} two rows with a time and a reading`;
  if (line === undefined) {
    throw new PeakwrightError('table-not-found', `${start}; every line is blank.`, fileDetail(source));
  }
  const expected = 'rows of two numbers or more: a time and its readings';
  const { column, from, to } = firstText(bytes, line.start, line.end, stated);
  const value = excerptOf(bytes, from, to);
  throw new PeakwrightError(
    'table-not-found',
    `${start}. For example line ${line.line}, column ${column} is "${value}"; expected ${expected}.`,
    { ...fileDetail(source), row: line.line, column, value, expected },
  );
}

/** The first field of a line that is no number, under the delimiter it has most of. */
function firstText(
  bytes: Uint8Array,
  start: number,
  end: number,
  stated: StatedReading,
): { column: number; from: number; to: number } {
  const names = ['tab', 'semicolon', 'comma', 'blanks'] as const;
  const counts = names.map((name) => {
    let count = 0;
    for (let i = start; i < end; i++) if (bytes[i] === delimiterBytes[name]) count++;
    return count;
  });
  const delimiter = stated.delimiter ?? names[counts.indexOf(Math.max(...counts))]!;
  const reading: TextReading = { delimiter, decimal: stated.decimal ?? '.' };
  const fields = createFields();
  const field = createFieldValue();
  splitLine(bytes, start, end, delimiterBytes[delimiter], fields);
  for (let c = 0; c < fields.count; c++) {
    readField(bytes, fields.starts[c]!, fields.ends[c]!, reading, true, field);
    if (field.kind !== 'number') return { column: c + 1, from: fields.starts[c]!, to: fields.ends[c]! };
  }
  return { column: 1, from: start, to: end };
}

function failTimeColumn(source: Source, bytes: Uint8Array, stated: StatedReading): void {
  const { table } = inferReading(bytes, { ...stated, timeColumn: undefined });
  if (table === undefined) return;
  const header = findTopHeader(bytes, table.reading, table.columns);
  const candidates = Array.from({ length: table.columns }, (_, c) => {
    const name = header?.[c]?.name ?? '';
    return name === '' ? `column ${c + 1}` : `${name} (column ${c + 1})`;
  });
  const asked = typeof stated.timeColumn === 'number' ? `${stated.timeColumn}` : `"${String(stated.timeColumn)}"`;
  throw new PeakwrightError(
    'column-unknown',
    `${opening(source)} has no column of numbers ${asked} for the times; there are ${candidates.slice(0, 20).join(', ')}. Pass timeColumn with one of these names or numbers.`,
    { ...fileDetail(source), field: 'timeColumn', value: stated.timeColumn, candidates },
  );
}
