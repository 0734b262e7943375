import { checkFinite } from './not-finite.js';

/** What a cell may hold; `undefined` is an empty cell. */
export type CsvValue = string | number | undefined;

/**
 * Lines of comma-separated values as RFC 4180 has them: CRLF after each line,
 * quotes around a field that holds a comma, a quote or a line end, quotes
 * doubled inside. Numbers have a decimal point and all the digits that tell
 * them from their neighbours. A text that a spreadsheet would run as a formula
 * gets an apostrophe in front.
 */
export function csvLines(header: readonly string[], rows: readonly (readonly CsvValue[])[]): string {
  return [header, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}

function field(value: CsvValue): string {
  if (typeof value === 'string') return quote(guard(value));
  if (value !== undefined) checkFinite(value, 'A number of the table');
  return String(value ?? '');
}

/** Formula injection: CWE-1236. The full-width signs count because some spreadsheets take them for the plain ones. */
function guard(text: string): string {
  const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
  return /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(text) && !plainNumber.test(text) ? `'${text}` : text;
}

function quote(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
