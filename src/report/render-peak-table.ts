import type { Analysis } from '../analysis/index.js';
import { csvLines } from './csv.js';
import { peakRows } from './peak-rows.js';

/**
 * The peaks of a run as comma-separated values (RFC 4180): one header line with
 * units, one line a peak, in order of time.
 *
 * Decimal point and comma, CRLF line ends, every number with all its digits, so
 * that reading it back gives the same number. What is not known is empty. Texts
 * that a spreadsheet would run as a formula are defused by an apostrophe. The
 * last column says how the units came to be known.
 *
 * @param analysis - The run; only read.
 *
 * @returns The table as text, without a byte-order mark.
 *
 * @throws {@link PeakwrightError} `result-not-finite` when a number is NaN or infinite.
 *
 * @public
 */
export function renderPeakTable(analysis: Analysis): string {
  const { meta } = analysis.trace;
  const run = meta.name ?? meta.file;
  const { timeUnit, signalUnit, timeOrigin } = analysis.units.provenance;
  const units = `time ${timeUnit.unit} ${timeUnit.provenance} from ${timeOrigin}; signal ${signalUnit.unit} ${signalUnit.provenance}`;
  const rows = peakRows(analysis.peaks, analysis.units);
  // The columns do not depend on the peak, so a run without peaks still has its header.
  const columns = Object.keys(rows[0] ?? headerRow(analysis));
  return csvLines(
    ['run', ...columns, 'units'],
    rows.map((row) => [run, ...columns.map((column) => row[column]), units]),
  );
}

function headerRow(analysis: Analysis): object {
  const nothing = { widths: {}, plates: {}, warnings: [] } as unknown as Analysis['peaks'][number];
  return peakRows([nothing], analysis.units)[0]!;
}
