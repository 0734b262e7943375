import { describe } from '../core/index.js';
import { excerpt, note, type Diagnostic } from './diagnostic.js';
import type { ReadTable } from './infer-reading.js';
import { failFile, type Source } from './locate.js';

/** Columns headed by the number of the row hold no signal. */
const rowNumbers = /^(?:#|no|nr|n|index|idx|point|points|scan|row)\.?$/i;

type Heads = Pick<ReadTable, 'heads'>;

/** Name of a column; only the first of several with one name has it without its number. */
export function nameColumn({ heads }: Heads, column: number): string {
  const { name } = heads[column]!;
  return name !== '' && heads.findIndex((head) => head.name === name) === column
    ? name
    : labelColumn({ heads }, column);
}

/** A column as a message names it. */
export function labelColumn({ heads }: Heads, column: number): string {
  const { name } = heads[column]!;
  return name === '' ? `column ${column + 1}` : `${excerpt(name)} (column ${column + 1})`;
}

/** Throws that no column, or more than one, is the one asked for. */
export function failColumn(
  source: Source,
  option: 'channel' | 'timeColumn',
  asked: string | number,
  table: Heads,
  columns: Iterable<number>,
): never {
  const candidates = Array.from(columns, (c) => labelColumn(table, c));
  failFile(
    source,
    option === 'channel' ? 'channel-unknown' : 'column-unknown',
    ` has no single column ${describe(asked)}; there are ${candidates.slice(0, 20).join(', ') || 'none'}. Pass one of these names or numbers as ${option}.`,
    { field: option, value: asked, candidates },
  );
}

/** [-] The columns of signal of a table, from 0, and why the others are none. */
export function findSignals(table: ReadTable): { signals: number[]; diagnostics: Diagnostic[] } {
  const { heads, timeColumn } = table;
  const signals: number[] = [];
  const diagnostics: Diagnostic[] = [];
  const times = heads.flatMap(({ isTime }, c) => (isTime ? [c] : []));
  // Times that are each followed by signals of their own head tables side by side.
  const areTables = times.length > 1 && times[0] === 0 && times.every((c) => heads[c + 1]?.isTime === false);
  let owner = timeColumn;
  heads.forEach(({ name, isTime }, c) => {
    if (isTime && areTables) owner = c;
    if (c === timeColumn) return;
    const why = isTime
      ? 'is another column of times by its header'
      : rowNumbers.test(name)
        ? 'is a count of rows by its header'
        : owner !== timeColumn
          ? `has times of its own: pass timeColumn: ${owner + 1} to read it`
          : hasTwoReadings(table, c)
            ? ''
            : 'has fewer than two readings';
    if (why === '') signals.push(c);
    else {
      const message = `${labelColumn(table, c)} ${why}; no trace was made of it.`;
      diagnostics.push(note('column-left-out', message, { action: 'column left out', column: c + 1 }));
    }
  });
  return { signals, diagnostics };
}

function hasTwoReadings({ values, rows }: ReadTable, column: number): boolean {
  let readings = 0;
  for (let i = 0; i < rows && readings < 2; i++) if (!Number.isNaN(values[column]![i])) readings++;
  return readings === 2;
}
