import { readings, withGrouping, type TextReading } from './dialect.js';
import { draftTable, sampleLines, type Draft } from './draft-table.js';
import { scanTable, type ScannedTable } from './scan-table.js';

/** What the caller has settled. */
export interface StatedReading {
  readonly delimiter: TextReading['delimiter'] | undefined;
  readonly decimal: TextReading['decimal'] | undefined;
  /** Name, or number from 1, of the column of times. */
  readonly timeColumn: string | number | undefined;
}

/** The best reading, and others that fit as well but give other numbers. */
export interface InferredReading {
  readonly table: ScannedTable | undefined;
  readonly rivals: readonly ScannedTable[];
}

/** [-] Lines of the first sample, and of the second when the first held no row. */
const samples = [400, 20_000];

/**
 * Finds the reading that fits the whole file best: it leaves the fewest lines
 * unread, has the fewest rows whose time is not later than that of the row
 * before, and the fewest rows with text between the numbers.
 *
 * A sample of lines orders the readings and gives their number of columns. Each
 * is then tried on the whole file, and given up once it fits worse than the
 * best one so far; so the outcome does not depend on the sample, only the time
 * it takes.
 */
export function inferReading(bytes: Uint8Array, stated: StatedReading): InferredReading {
  const hasQuotes = bytes.includes(34);
  const candidates = readings.filter(
    (reading) =>
      // Between commas, a comma inside a number needs quotes.
      (hasQuotes || reading.delimiter !== 'comma' || reading.decimal !== ',' || reading.paired === true) &&
      (stated.delimiter === undefined || reading.delimiter === stated.delimiter) &&
      (stated.decimal === undefined || reading.decimal === stated.decimal),
  );
  let drafts: Draft[] = [];
  for (const most of samples) {
    const { lines, areAll } = sampleLines(bytes, most);
    if (lines.length < 2) break;
    drafts = [
      ...candidates,
      ...candidates
        .filter(({ paired, delimiter }) => paired !== true && (hasQuotes || delimiter !== 'comma'))
        .map(withGrouping),
    ]
      .map((reading) => draftTable(bytes, lines, reading, stated.timeColumn))
      .filter((draft) => draft !== undefined)
      .sort((a, b) => b.score - a.score);
    if (drafts.length > 0 || areAll) break;
  }
  const tables = scanAll(bytes, drafts);
  const best = tables[0];
  if (best === undefined) return { table: undefined, rivals: [] };
  const rivals: ScannedTable[] = [];
  for (const other of tables.slice(1)) {
    if (isRival(best, other) && !rivals.some((rival) => hasSameNumbers(rival, other))) rivals.push(other);
  }
  return { table: best, rivals };
}

/** The tables that could be the best one, best first. */
function scanAll(bytes: Uint8Array, drafts: readonly Draft[]): ScannedTable[] {
  const tables: ScannedTable[] = [];
  let lowest = Infinity;
  const tryOne = (draft: Draft): void => {
    const { reading, columns, timeColumns, textColumns } = draft;
    const most = reading.paired === true || tables.every((table) => table.reading.paired === true) ? Infinity : lowest;
    const table = scanTable(bytes, { reading, columns, timeColumns, textColumns }, most);
    if (table === undefined || table.rows < 2) return;
    tables.push(table);
    lowest = Math.min(lowest, table.cost);
  };
  for (const draft of drafts) if (draft.reading.grouping === undefined) tryOne(draft);
  const plain = [...tables];
  // Grouped thousands matter only where every plain reading leaves something inside the table unread.
  if (plain.every(({ cost, faults }) => cost > lowest || faults.events.length > 0)) {
    for (const draft of drafts) if (draft.reading.grouping !== undefined) tryOne(draft);
  }
  return tables
    .filter(
      (table) =>
        table.reading.grouping === undefined ||
        (table.grouped && (table.groupingProven || plain.every(({ cost }) => cost > table.cost))),
    )
    .sort((a, b) => a.cost - b.cost || a.unread - b.unread);
}

/** Whether another reading fits as well as the best one and gives other numbers. */
function isRival(best: ScannedTable, other: ScannedTable): boolean {
  if (other.unread > best.unread) return false;
  // Joining pieces in pairs makes times that increase more easily, so a few rows do not settle it.
  const paired = (best.reading.paired ?? false) !== (other.reading.paired ?? false);
  const margin = paired && other.textRows <= best.textRows ? best.rows / 10 : 0;
  return other.cost <= best.cost + margin && !hasSameNumbers(best, other);
}

function hasSameNumbers(a: ScannedTable, b: ScannedTable): boolean {
  if (a.rows !== b.rows || a.columns !== b.columns) return false;
  for (let i = 0; i < a.rows * a.columns; i++) if (!Object.is(a.values[i], b.values[i])) return false;
  return true;
}
