/** What a table shows. */
export interface TextTableOptions {
  /** Names of the columns to show, in this order; every one that has a value when absent. */
  readonly columns?: readonly string[] | 'all';
  /** [-] Significant digits of the largest number in a column; all numbers of the column get its decimals. */
  readonly digits?: number;
}

/**
 * Sets rows as plain text for a terminal: columns aligned, numbers to the right
 * with the same decimals down a column, texts to the left, nothing for what is absent.
 */
export function renderTextTable(
  rows: readonly Readonly<Record<string, string | number | undefined>>[],
  options: TextTableOptions = {},
): string {
  const { columns, digits } = { columns: 'all' as const, digits: 5, ...options };
  const known = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  if (rows.length === 0) return '';
  const shown = columns === 'all' ? known.filter((column) => rows.some((row) => row[column] !== undefined)) : columns;
  const cells = shown.map((name) => {
    const values = rows.map((row) => row[name]);
    return setColumn(name, values, digits);
  });
  // The heading, the rule, and the rows.
  const lines = ['', '', ...rows].map((_, i) => cells.map((column) => column[i]!).join('  '));
  return lines.map((line) => `${line.trimEnd()}\n`).join('');
}

/** Header, rule and cells of a column, all of one width. */
function setColumn(name: string, values: readonly (string | number | undefined)[], digits: number): string[] {
  const numbers = values.filter((value) => typeof value === 'number');
  const decimals = numbers.every(Number.isInteger) ? 0 : commonDecimals(numbers.map(Math.abs), digits);
  const texts = values.map((value) => (typeof value === 'number' ? value.toFixed(decimals) : (value ?? '')));
  // Without characters that move the cursor or change colours.
  const clean = [name, ...texts].map((text) => text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, '\uFFFD'));
  const width = Math.max(...clean.map(columnsOf));
  const [heading, ...cells] = clean.map((text) => {
    const blanks = ' '.repeat(width - columnsOf(text));
    return numbers.length > 0 ? blanks + text : text + blanks;
  });
  return [heading!, '-'.repeat(width), ...cells];
}

/** Decimals that give the largest number its digits and the smallest at least three, held to six more than that. */
function commonDecimals(sizes: readonly number[], digits: number): number {
  const needed = decimalsFor(Math.max(...sizes), digits);
  const smallest = Math.min(...sizes.filter((size) => size > 0));
  return Math.min(Math.max(needed, decimalsFor(smallest, Math.min(3, digits))), needed + 6);
}

/** [columns] Width of a text on a terminal: East Asian wide characters take two. */
function columnsOf(text: string): number {
  const wide = /[\u1100-\u115F\u2E80-\uA4CF\uAC00-\uD7A3\uF900-\uFAFF\uFE30-\uFE6F\uFF00-\uFF60]/;
  return [...text].reduce((sum, character) => sum + (wide.test(character) ? 2 : 1), 0);
}

/** [-] Decimals that give a number so many significant digits, at most 20. */
function decimalsFor(value: number, digits: number): number {
  return Math.min(Math.max(digits - 1 - Number(value.toExponential().split('e')[1]), 0), 20);
}
