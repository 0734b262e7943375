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
  const more = { count: 0, rows: 0, lastLine: 0 };
  const isSignal = new Set(signals);
  const lineOf = createLineCounter(bytes);
  const report: ReportFault = (fault, from, to, column) => {
    const isRow = column === undefined;
    if (!isRow && !isSignal.has(column)) return;
    counts.set(fault, (counts.get(fault) ?? 0) + 1);
    const rows = isRow ? 1 : 0;
    const line = lineOf(from);
    if (diagnostics.length === mostListed) {
      more.count++;
      more.rows += rows;
      more.lastLine = line;
      return;
    }
    const found = excerpt(decodePart(bytes, from, to));
    const place = isRow ? '' : `, column ${column + 1}`;
    const quote = found === '' ? '' : `: "${found}"`;
    const left = isRow ? 'row' : 'sample';
    diagnostics.push(
      note(fault, `Line ${line}${place} ${wrong[fault]}${quote}. The ${left} was left out.`, {
        action: `${left} left out`,
        rows,
        line,
        ...(isRow ? {} : { column: column + 1 }),
        found,
      }),
    );
  };
  if (!table.isClean) scanTable(bytes, { ...table, below: table.from }, { end: table.to, report });
  const { count, rows, lastLine } = more;
  if (count > 0) {
    const message = `${count} more rows and cells up to line ${lastLine} were left out for such reasons.`;
    diagnostics.push(note('more-left-out', message, { action: 'row left out', rows, lastLine }));
  }
  return { diagnostics, count: (fault) => counts.get(fault) ?? 0 };
}
