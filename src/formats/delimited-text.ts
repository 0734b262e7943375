import type { Trace } from '../trace/index.js';
import { describeFaults } from './describe-faults.js';
import { decodePart, excerpt, note, type Diagnostic } from './diagnostic.js';
import type { TextReading } from './dialect.js';
import type { ResolvedFileOptions } from './file-options.js';
import { inferReading, type ReadTable } from './infer-reading.js';
import { createLineCounter, failFile, type Source } from './locate.js';
import { listLines, mostLines, type FileLine } from './outside-lines.js';
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
export function readDelimitedText(source: Source, bytes: Uint8Array, options: ResolvedFileOptions): DelimitedText {
  const table = settle(source, bytes, options);
  const { signals, diagnostics: columns } = findSignals(table);
  const { diagnostics: faults, count } = describeFaults(bytes, table, signals);
  const misfits = count('row-not-numeric') + count('row-width');
  if (misfits > table.rows) failNoTable(source, bytes, options);
  const { metadata, diagnostics } = readOutside(bytes, table);
  const traces = createTraces(table, signals, { source, bytes, options, metadata, diagnostics });
  // A row with a time alone is a sample left out of its trace, and counted as left out.
  const empty = count('row-empty');
  return {
    reading: table.reading,
    traces,
    metadata,
    rows: { found: table.rows + misfits, used: table.rows - empty, leftOut: misfits + empty },
    diagnostics: [...faults, ...columns, ...diagnostics],
  };
}

/** The one reading that fits; of several the one whose columns the header counts. */
function settle(source: Source, bytes: Uint8Array, options: ResolvedFileOptions): ReadTable {
  const tables = inferReading(bytes, options);
  const headed = tables.filter(({ header }) => header !== undefined);
  const [table, ...rivals] = headed.length > 0 ? headed : tables;
  if (table === undefined) return failNoTable(source, bytes, options);
  const { timeColumn } = options;
  if (timeColumn !== undefined && !table.hasNamedTimes)
    failColumn(source, 'timeColumn', timeColumn, table, table.heads.keys());
  if (rivals.length === 0) return table;
  const candidates = [table, ...rivals].map(({ reading: { delimiter, decimal }, values }) => {
    const first = values.slice(0, 4).map((column) => column[0]);
    return `{ delimiter: '${delimiter}', decimal: '${decimal}' } with first row ${first.join(' | ')}`;
  });
  const row = createLineCounter(bytes)(table.from);
  return failFile(
    source,
    'reading-ambiguous',
    `, line ${row}, fits several readings equally well: ${candidates.join('; ')}. Pass the options of one.`,
    { row, field: 'delimiter', candidates },
  );
}

function failNoTable(source: Source, bytes: Uint8Array, options: ResolvedFileOptions): never {
  const { delimiter = 'any', decimal = 'any' } = options;
  // One line from the first few dozen: far enough down to be past a preamble.
  const line = listLines(bytes, 0, bytes.length).kept.slice(0, 50).at(-1);
  const row = line && createLineCounter(bytes)(line.start);
  const value = line && excerpt(decodePart(bytes, line.start, line.end));
  failFile(
    source,
    'table-not-found',
    ` holds no table of numbers: read with ${delimiter} delimiter and ${decimal} decimal mark, most lines are no time with a reading. ${row === undefined ? 'Every line is blank.' : `For example line ${row} is "${value}".`}`,
    row === undefined ? {} : { row, value, expected: 'rows of two numbers or more' },
  );
}

/** The lines above the header and below the table. */
function readOutside(
  bytes: Uint8Array,
  { header, from, to }: ReadTable,
): { metadata: FileLine[]; diagnostics: Diagnostic[] } {
  const above = listLines(bytes, 0, header?.start ?? from);
  const below = listLines(bytes, to, bytes.length);
  const lineOf = createLineCounter(bytes);
  const metadata = [...above.kept, ...below.kept]
    .slice(0, mostLines)
    .map(({ start, end }) => ({ line: lineOf(start), text: decodePart(bytes, start, end) }));
  const all = above.count + below.count;
  const cut = `Of ${all} lines outside the table the first ${mostLines} are kept in metadata.`;
  return { metadata, diagnostics: all > mostLines ? [note('metadata-cut', cut)] : [] };
}
