/** Why a line inside the table did not become a row, or a cell did not become a sample. */
export type ScanFault =
  'row-not-numeric' | 'row-width' | 'row-empty' | 'row-outside-table' | 'cell-empty' | 'cell-not-numeric';

/** One faulty line or cell. */
export interface ScanEvent {
  readonly fault: ScanFault;
  /** [-] Line, from 1. */
  readonly line: number;
  /** [-] Column, from 1. */
  readonly column: number;
  /** [-] First byte of the text at fault, and the one after the last. */
  readonly from: number;
  readonly to: number;
}

/** Faults of a table: the first so many one by one, the others counted. */
export interface FaultLog {
  readonly events: ScanEvent[];
  readonly surplus: Map<ScanFault, { count: number; lastLine: number }>;
  /** [-] Lines left out, by fault. */
  readonly rows: Map<ScanFault, number>;
}

/** [-] Faults kept one by one. */
const mostEvents = 1000;

export function createFaultLog(): FaultLog {
  return { events: [], surplus: new Map(), rows: new Map() };
}

export function isRowFault(fault: ScanFault): boolean {
  return fault.startsWith('row');
}

/** [-] Lines left out altogether. */
export function countFaultyRows({ rows }: FaultLog): number {
  let count = 0;
  for (const n of rows.values()) count += n;
  return count;
}

export function noteFault(log: FaultLog, event: ScanEvent): void {
  if (isRowFault(event.fault)) log.rows.set(event.fault, (log.rows.get(event.fault) ?? 0) + 1);
  if (log.events.length < mostEvents) log.events.push(event);
  else addSurplus(log, event.fault, 1, event.line);
}

/** Moves what waits into the log, in order. */
export function mergeFaults(log: FaultLog, waiting: FaultLog): void {
  if (waiting.events.length === 0) return;
  for (const event of waiting.events) noteFault(log, event);
  for (const [fault, { count, lastLine }] of waiting.surplus) {
    if (isRowFault(fault)) log.rows.set(fault, (log.rows.get(fault) ?? 0) + count);
    addSurplus(log, fault, count, lastLine);
  }
  clearFaults(waiting);
}

export function clearFaults(log: FaultLog): void {
  log.events.length = 0;
  log.surplus.clear();
  log.rows.clear();
}

function addSurplus(log: FaultLog, fault: ScanFault, count: number, lastLine: number): void {
  log.surplus.set(fault, { count: (log.surplus.get(fault)?.count ?? 0) + count, lastLine });
}
