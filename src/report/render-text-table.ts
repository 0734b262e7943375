import { failOption, PeakwrightError, resolveOptions } from '../core/index.js';

/**
 * Options of {@link renderTextTable}.
 *
 * @public
 */
export interface TextTableOptions {
  /**
   * Names of the columns to show, in this order; `'all'` shows every one that has a value.
   *
   * @defaultValue 'all'
   */
  readonly columns?: readonly string[] | 'all';
  /**
   * [-] Significant digits of the largest number in a column, 1 to 15; all numbers of the column get its decimals.
   *
   * @defaultValue 5
   */
  readonly digits?: number;
}

const defaults: Required<TextTableOptions> = { columns: 'all', digits: 5 };

/**
 * Sets rows as plain text for a terminal: columns aligned, numbers to the right
 * with the same decimals down a column (the smallest still
 * shows three digits), texts to the left, nothing for what is
 * not known. Control characters in texts are replaced, so that a file name
 * cannot steer the terminal.
 *
 * @param rows - Rows with the same columns, for example from {@link peakRows}; only read.
 * @param options - Columns and digits; see {@link TextTableOptions}.
 *
 * @returns Lines of text, each ended; no line for no rows.
 *
 * @throws {@link PeakwrightError} `option-unknown`, `option-invalid`,
 *   `result-not-finite` when a number is NaN or infinite.
 *
 * @example
 * ```ts
 * const table = renderTextTable([{ name: 'vanillin', 'area [mAU s]': 1200.5 }]);
 * table.split('\n')[2]; // => 'vanillin        1200.5'
 * ```
 *
 * @public
 */
export function renderTextTable(
  rows: readonly Readonly<Record<string, string | number | undefined>>[],
  options: TextTableOptions = {},
): string {
  const { columns, digits } = resolveOptions('renderTextTable', defaults, options);
  if (!Number.isInteger(digits) || digits < 1 || digits > 15) {
    failOption('renderTextTable', 'digits', 'an integer from 1 to 15', digits);
  }
  const known = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  if (columns !== 'all') {
    const missing = columns.find((column) => rows.length > 0 && !known.includes(column));
    if (missing !== undefined) failOption('renderTextTable', 'columns', `among ${known.join(', ')}`, missing);
  }
  if (rows.length === 0) return '';
  const shown = columns === 'all' ? known.filter((column) => rows.some((row) => row[column] !== undefined)) : columns;
  const cells = shown.map((column) =>
    setColumn(
      column,
      rows.map((row) => row[column]),
      digits,
    ),
  );
  const lines = ['', '', ...rows].map((_, i) =>
    cells
      .map((column) => column[i]!)
      .join('  ')
      .trimEnd(),
  );
  return lines.map((line) => `${line}\n`).join('');
}

/** Header, rule and cells of a column, all of one width. */
function setColumn(name: string, values: readonly (string | number | undefined)[], digits: number): string[] {
  const numbers = values.filter((value) => typeof value === 'number');
  const decimals = numbers.every(Number.isInteger) ? 0 : decimalsOf(numbers.map(Math.abs), digits);
  const texts = values.map((value) => {
    if (typeof value !== 'number') return clean(value ?? '');
    if (Number.isFinite(value)) return value.toFixed(decimals);
    throw new PeakwrightError('result-not-finite', `Column ${name} holds ${value}; leave out what is not known.`, {
      field: name,
      value,
    });
  });
  const heading = clean(name);
  const width = Math.max(...[heading, ...texts].map(columnsOf));
  const right = numbers.length > 0;
  const pad = (text: string): string => {
    const blanks = ' '.repeat(width - columnsOf(text));
    return right ? blanks + text : text + blanks;
  };
  return [pad(heading), '-'.repeat(width), ...texts.map(pad)];
}

/** Decimals that give the largest number its digits and the smallest at least three, held to six more than that. */
function decimalsOf(sizes: readonly number[], digits: number): number {
  const needed = decimalsFor(Math.max(...sizes), digits);
  const smallest = Math.min(...sizes.filter((size) => size > 0));
  return Math.min(Math.max(needed, decimalsFor(smallest, Math.min(3, digits))), needed + 6, 20);
}

function decimalsFor(largest: number, digits: number): number {
  let decimals = digits - 1;
  for (let bound = 10; bound <= largest && decimals > 0; bound *= 10) decimals--;
  for (let bound = 1; largest < bound && decimals < 15; bound /= 10) decimals++;
  return decimals;
}

/** Text without characters that move the cursor or change colours. */
function clean(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, '\uFFFD');
}

/** [columns] Width of a text on a terminal: East Asian wide characters take two. */
function columnsOf(text: string): number {
  let columns = 0;
  for (const character of text) {
    columns += /[\u1100-\u115F\u2E80-\uA4CF\uAC00-\uD7A3\uF900-\uFAFF\uFE30-\uFE6F\uFF00-\uFF60]/u.test(character)
      ? 2
      : 1;
  }
  return columns;
}
