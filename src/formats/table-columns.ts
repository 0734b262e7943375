import { describe } from '../core/index.js';
import { excerpt, note, type Diagnostic } from './diagnostic.js';
import type { ReadTable } from './infer-reading.js';
import { failFile, type Source } from './locate.js';

/** Columns headed by the number of the row hold no signal. */
const rowNumbers = /^(?:#|no|nr|n|index|idx|point|points|scan|row)\.?$/i;

type Heads = Pick<ReadTable, 'heads'>;

/** Name of a column; only the first of several with one name has it without its number. */
export function nameColumn(table: Heads, column: number): string {
  const { name } = table.heads[column]!;
  const isFirst = name !== '' && table.heads.findIndex((head) => head.name === name) === column;
  return isFirst ? name : labelColumn(table, column);
}

/** A column as a message names it. */
export function labelColumn({ heads }: Heads, column: number): string {
  const { name } = heads[column]!;
  return name === '' ? `column ${column + 1}` : `${excerpt(name)} (column ${column + 1})`;
}

/** Throws that no column, or more than one, is the one asked for. */
export function failColumn(
  source: Source,
  field: 'channel' | 'timeColumn',
  value: string | number,
  table: Heads,
  columns: Iterable<number>,
): never {
  const candidates = Array.from(columns, (c) => labelColumn(table, c));
  const there = candidates.slice(0, 20).join(', ') || 'none';
  const what = ` has no single column ${describe(value)}; there are ${there}. Pass one of these names or numbers as ${field}.`;
  failFile(source, field === 'channel' ? 'channel-unknown' : 'column-unknown', what, { field, value, candidates });
}

/** [-] The columns of signal of a table, from 0, and why the others are none. */
export function findSignals(table: ReadTable): { signals: number[]; diagnostics: Diagnostic[] } {
  const { heads, timeColumn, values, rows } = table;
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
      ? 'is another column of times'
      : rowNumbers.test(name)
        ? 'is a count of rows'
        : owner !== timeColumn
          ? `has times of its own: pass timeColumn: ${owner + 1} to read it`
          : hasTwoReadings(values[c]!, rows)
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

function hasTwoReadings(values: Float64Array, rows: number): boolean {
  const isReading = (value: number, i: number): boolean => i < rows && !Number.isNaN(value);
  return values.findIndex(isReading) !== values.findLastIndex(isReading);
}
