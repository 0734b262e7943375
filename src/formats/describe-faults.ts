import { defined } from '../core/index.js';
import { decodePart, excerpt, note, type Diagnostic } from './diagnostic.js';
import type { ReadTable } from './infer-reading.js';
import { createLineCounter } from './locate.js';
import type { Fault, ReportFault } from './read-row.js';
import { scanTable } from './scan-table.js';

const wrong: Readonly<Record<Fault, string>> = {
  'row-not-numeric': 'has no number in the column of times',
  'row-width': 'has another number of fields than the table',
  'row-empty': 'has a time and no reading',
  'cell-empty': 'is empty',
  'cell-not-numeric': 'is no number',
};

/** [-] Faults listed one by one; more are counted. */
const mostListed = 1000;

/**
 * Reads the table once more and says of every fault where it is, and how many
 * there are of each kind; cells count in the columns of signals only.
 */
export function describeFaults(
  bytes: Uint8Array,
  table: ReadTable,
  signals: readonly number[],
): { diagnostics: Diagnostic[]; counts: Readonly<Record<Fault, number>> } {
  const diagnostics: Diagnostic[] = [];
  const counts = { 'row-not-numeric': 0, 'row-width': 0, 'row-empty': 0, 'cell-empty': 0, 'cell-not-numeric': 0 };
  const more = { count: 0, rows: 0, lastLine: 0 };
  const lineOf = createLineCounter(bytes);
  const report: ReportFault = (fault, from, to, cell) => {
    if (cell !== undefined && !signals.includes(cell)) return;
    counts[fault]++;
    const line = lineOf(from);
    const [left, rows] = cell === undefined ? (['row', 1] as const) : (['sample', 0] as const);
    if (diagnostics.length === mostListed) {
      more.count++;
      more.rows += rows;
      more.lastLine = line;
      return;
    }
    const found = excerpt(decodePart(bytes, from, to));
    const column = cell === undefined ? undefined : cell + 1;
    const place = column === undefined ? '' : `, column ${column}`;
    const message = `Line ${line}${place} ${wrong[fault]}: "${found}". The ${left} was left out.`;
    diagnostics.push(note(fault, message, defined({ action: `${left} left out` as const, rows, line, column, found })));
  };
  if (!table.isClean) scanTable(bytes, { ...table, below: table.from }, { end: table.to, report });
  if (more.count > 0) {
    const message = `${more.count} more rows and cells up to line ${more.lastLine} were left out for such reasons.`;
    diagnostics.push(
      note('more-left-out', message, { action: 'row left out', rows: more.rows, lastLine: more.lastLine }),
    );
  }
  return { diagnostics, counts };
}
