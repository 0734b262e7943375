import { excerptOf, type Diagnostic } from './diagnostic.js';
import { isRowFault, type FaultLog, type ScanEvent, type ScanFault } from './fault-log.js';

const wrong: Readonly<Record<ScanFault, string>> = {
  'row-not-numeric': 'has no number in the column of times',
  'row-width': 'has another number of fields than the table has columns',
  'row-empty': 'has a time and no reading',
  'row-outside-table': 'stands outside the table',
  'cell-empty': 'is empty where a reading was expected',
  'cell-not-numeric': 'is text where a number was expected',
};

/** Says of every line and cell that was left out where it is, what was found and what was expected. */
export function describeFaults(bytes: Uint8Array, faults: FaultLog, columns: number): Diagnostic[] {
  const diagnostics = faults.events.map((event) => describeFault(bytes, event, columns));
  for (const [fault, { count, lastLine }] of faults.surplus) {
    const isRow = isRowFault(fault);
    diagnostics.push({
      code: fault,
      message: `${count} more ${isRow ? 'lines' : 'cells'} up to line ${lastLine}, not listed one by one: each ${wrong[fault]}.`,
      action: isRow ? 'row left out' : 'sample left out',
      rows: isRow ? count : 0,
      lastLine,
    });
  }
  return diagnostics;
}

function describeFault(bytes: Uint8Array, { fault, line, column, from, to }: ScanEvent, columns: number): Diagnostic {
  const isRow = isRowFault(fault);
  const found = excerptOf(bytes, from, to);
  const width = fault === 'row-width' ? ` (${columns})` : '';
  const shown = found === '' ? '' : `: "${found}"`;
  return {
    code: fault,
    message: `Line ${line}, column ${column} ${wrong[fault]}${width}${shown}. ${isRow ? 'The row' : 'The sample'} was left out.`,
    action: isRow ? 'row left out' : 'sample left out',
    rows: isRow ? 1 : 0,
    line,
    column,
    ...(found === '' ? {} : { found }),
  };
}
