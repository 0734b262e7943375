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
): { diagnostics: Diagnostic[]; count: (fault: Fault) => number } {
  const diagnostics: Diagnostic[] = [];
  const counts = new Map<Fault, number>();
  let unlisted = 0;
  let lastLine = 0;
  const lineOf = createLineCounter(bytes);
  const report: ReportFault = (fault, from, to, cell) => {
    if (cell !== undefined && !signals.includes(cell)) return;
    counts.set(fault, (counts.get(fault) ?? 0) + 1);
    const line = lineOf(from);
    const [left, rows] = cell === undefined ? (['row', 1] as const) : (['sample', 0] as const);
    if (diagnostics.length === mostListed) {
      unlisted += rows;
      lastLine = line;
      return;
    }
    const found = excerpt(decodePart(bytes, from, to));
    const place = cell === undefined ? '' : `, column ${cell + 1}`;
    const message = `Line ${line}${place} ${wrong[fault]}: "${found}". The ${left} was left out.`;
    const column = cell === undefined ? {} : { column: cell + 1 };
    diagnostics.push(note(fault, message, { action: `${left} left out`, rows, line, found, ...column }));
  };
  if (!table.isClean) scanTable(bytes, { ...table, below: table.from }, { end: table.to, report });
  if (lastLine > 0) {
    const message = `More rows (${unlisted}) and cells up to line ${lastLine} were left out for such reasons.`;
    diagnostics.push(note('more-left-out', message, { action: 'row left out', rows: unlisted, lastLine }));
  }
  return { diagnostics, count: (fault) => counts.get(fault) ?? 0 };
}
