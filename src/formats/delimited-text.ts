import { PeakwrightError } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { describeFaults } from './describe-faults.js';
import type { Diagnostic } from './diagnostic.js';
import { describeReading, type TextReading } from './dialect.js';
import { failAmbiguous, failNoTable } from './fail-reading.js';
import { countFaultyRows } from './fault-log.js';
import type { ResolvedFileOptions } from './file-options.js';
import { inferReading } from './infer-reading.js';
import { fileDetail, opening, type Source } from './locate.js';
import { listLines, type FileLine } from './preamble.js';
import type { ScannedTable } from './scan-table.js';
import { divideTable } from './divide-table.js';
import { findHeader } from './table-header.js';
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
  const { table: best, rivals } = inferReading(bytes, options);
  if (best === undefined) failNoTable(source, bytes, options);
  const table = rivals.length === 0 ? best : settle(source, bytes, [best, ...rivals], options);
  failUnlessMostlyRows(source, table);
  const { parts, metadata, emptyOutside, diagnostics: notes } = divideTable(bytes, table);
  const { traces, diagnostics } = createTraces(source, table, parts, options);
  const leftOut = countFaultyRows(table.faults);
  // A row with a time alone is kept, so that its trace shows the gap, and counted as left out.
  const empty = (table.faults.rows.get('row-empty') ?? 0) - emptyOutside;
  const used = parts.reduce((sum, { from, to }) => sum + to - from, 0) - empty;
  return {
    reading: table.reading,
    traces,
    metadata,
    rows: { found: used + leftOut, used, leftOut },
    diagnostics: [...notes, ...describeFaults(bytes, table.faults, table.columns), ...diagnostics],
  };
}

/** Of readings that fit equally well, the one whose columns the header counts; else an error that lists them. */
function settle(
  source: Source,
  bytes: Uint8Array,
  tables: readonly ScannedTable[],
  options: ResolvedFileOptions,
): ScannedTable {
  const headed = tables.filter(({ starts, reading, columns }) => {
    const { last } = listLines(bytes, 0, starts[0]!.at, 1);
    return findHeader(bytes, last, reading, columns) !== undefined;
  });
  if (headed.length === 1) return headed[0]!;
  const left = headed.length > 1 ? headed : tables;
  const paired = left.filter(({ reading }) => reading.paired === true);
  // Whoever states a comma for both means pieces in pairs; the other reading of that is numbers in quotes.
  if (options.delimiter === 'comma' && options.decimal === ',' && paired.length === 1) return paired[0]!;
  return failAmbiguous(source, left);
}

/** A text in which most lines do not fit is not a table with faults but something else. */
function failUnlessMostlyRows(source: Source, { rows, faults, reading, starts }: ScannedTable): void {
  const misfits = (faults.rows.get('row-not-numeric') ?? 0) + (faults.rows.get('row-width') ?? 0);
  if (misfits <= rows) return;
  const event = faults.events.find(({ fault }) => fault === 'row-not-numeric' || fault === 'row-width');
  throw new PeakwrightError(
    'table-not-found',
    `${opening(source)} holds no table of numbers: even in the best reading (${describeReading(reading)}) only ${rows} of ${rows + misfits} lines from line ${starts[0]!.line} on are rows${event === undefined ? '' : `; line ${event.line} is the first that is not`}.`,
    {
      ...fileDetail(source),
      ...(event === undefined ? {} : { row: event.line, column: event.column }),
      expected: 'rows of two numbers or more: a time and its readings',
    },
  );
}
