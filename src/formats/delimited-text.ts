import type { Trace } from '../trace/index.js';
import { describeFaults } from './describe-faults.js';
import { decodePart, excerpt, type Diagnostic } from './diagnostic.js';
import type { TextReading } from './dialect.js';
import type { FileOptions } from './file-options.js';
import { inferReading, type ReadTable } from './infer-reading.js';
import { createLineCounter, failFile, type Source } from './locate.js';
import { listLines, type FileLine } from './outside-lines.js';
import { failColumn, findSignals } from './table-columns.js';
import { createTraces } from './table-traces.js';

/** What {@link readDelimitedText} found. */
export interface DelimitedText {
  readonly reading: TextReading;
  readonly traces: readonly Trace[];
  readonly metadata: readonly FileLine[];
  readonly rows: { readonly found: number; readonly used: number; readonly leftOut: number };
  readonly diagnostics: readonly Diagnostic[];
}

/** Reads delimited text in UTF-8. */
export function readDelimitedText(source: Source, bytes: Uint8Array, options: FileOptions): DelimitedText {
  const table = settle(source, bytes, options);
  const { signals, diagnostics: columns } = findSignals(table);
  const { diagnostics, count } = describeFaults(bytes, table, signals);
  const misfits = count('row-not-numeric') + count('row-width');
  if (misfits > table.rows) failNoTable(source, bytes, options);
  const lineOf = createLineCounter(bytes);
  const metadata = [
    ...listLines(bytes, 0, table.header?.start ?? table.from),
    ...listLines(bytes, table.to, bytes.length),
  ].map(({ start, end }) => ({ line: lineOf(start), text: decodePart(bytes, start, end) }));
  diagnostics.push(...columns);
  const traces = createTraces(table, signals, { source, bytes, options, metadata, diagnostics });
  // A row with a time alone is a sample left out of its trace, and counted as left out.
  const empty = count('row-empty');
  return {
    reading: table.reading,
    traces,
    metadata,
    rows: { found: table.rows + misfits, used: table.rows - empty, leftOut: misfits + empty },
    diagnostics,
  };
}

/** The one reading that fits; of several the one whose columns the header counts. */
function settle(source: Source, bytes: Uint8Array, options: FileOptions): ReadTable {
  const tables = inferReading(bytes, options);
  const headed = tables.filter(({ header }) => header !== undefined);
  const fitting = headed.length > 0 ? headed : tables;
  const [table] = fitting;
  if (table === undefined) return failNoTable(source, bytes, options);
  const { timeColumn } = options;
  if (timeColumn !== undefined && !table.hasNamedTimes)
    failColumn(source, 'timeColumn', timeColumn, table, table.heads.keys());
  if (fitting.length === 1) return table;
  const candidates = fitting.map(({ reading: { delimiter, decimal }, values }) => {
    const first = values.slice(0, 4).map((column) => column[0]);
    return `{ delimiter: '${delimiter}', decimal: '${decimal}' } with first row ${first.join(' | ')}`;
  });
  const row = createLineCounter(bytes)(table.from);
  const what = `, line ${row}, fits several readings equally well: ${candidates.join('; ')}. Pass the options of one.`;
  return failFile(source, 'reading-ambiguous', what, { row, field: 'delimiter', candidates });
}

function failNoTable(source: Source, bytes: Uint8Array, { delimiter, decimal }: FileOptions): never {
  // A line some way down, likely past a preamble.
  const { start, end } = listLines(bytes, 0, Math.min(bytes.length, 5000)).slice(0, 50).at(-1) ?? { start: 0, end: 0 };
  const row = createLineCounter(bytes)(start);
  const value = excerpt(decodePart(bytes, start, end));
  const what = ` holds no table of numbers: with ${delimiter ?? 'any'} delimiter and ${decimal ?? 'any'} decimal mark most lines are no time with a reading, for example line ${row}: "${value}".`;
  failFile(source, 'table-not-found', what, { row, value, expected: 'rows of two numbers or more' });
}
