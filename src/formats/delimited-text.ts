import { PeakwrightError } from '../core/index.js';
import { createTrace, type Trace } from '../trace/index.js';
import type { ColumnHeader } from './column-header.js';
import { excerptOf, type Diagnostic } from './diagnostic.js';
import { describeReading, optionsOf, type TextReading } from './dialect.js';
import type { ResolvedFileOptions } from './file-options.js';
import { inferReading } from './infer-reading.js';
import { lineText, listLines, type FileLine } from './preamble.js';
import type { ScanEvent, ScanFault, ScannedTable } from './scan-table.js';
import { findHeader, type TableHeader } from './table-header.js';

/** What {@link readDelimitedText} found. */
export interface DelimitedText {
  readonly reading: TextReading;
  readonly traces: readonly Trace[];
  readonly metadata: readonly FileLine[];
  readonly rows: { readonly found: number; readonly used: number; readonly leftOut: number };
  readonly diagnostics: readonly Diagnostic[];
}

/** Reads delimited text in UTF-8. */
export function readDelimitedText(caller: string, bytes: Uint8Array, options: ResolvedFileOptions): DelimitedText {
  const where = options.file ?? 'the text';
  const { table, rivals } = inferReading(bytes, options);
  if (table === undefined) failNoTable(caller, where, bytes, options);
  let chosen: ScannedTable = table;
  if (rivals.length > 0) chosen = settle(caller, where, bytes, [table, ...rivals], options);
  const above = listLines(bytes, 0, chosen.firstRowAt, 1);
  const below = listLines(bytes, chosen.afterLastRow, bytes.length, chosen.lastRowLine + 1);
  const header = findHeader(bytes, above.last, chosen.reading, chosen.columns);
  const diagnostics: Diagnostic[] = describeFaults(bytes, chosen);
  const metadata = [...above.kept.filter(({ line }) => header?.lines.includes(line) !== true), ...below.kept].map(
    (place) => lineText(bytes, place),
  );
  const traces = buildTraces(caller, where, chosen, header, options, diagnostics);
  return {
    reading: chosen.reading,
    traces,
    metadata,
    rows: { found: chosen.rows + chosen.faultyRows, used: chosen.rows, leftOut: chosen.faultyRows },
    diagnostics,
  };
}

/** Of readings that fit equally well, the one whose columns the header counts; else an error that lists them. */
function settle(
  caller: string,
  where: string,
  bytes: Uint8Array,
  tables: readonly ScannedTable[],
  options: ResolvedFileOptions,
): ScannedTable {
  const headed = tables.filter(({ firstRowAt, reading, columns }) => {
    const { last } = listLines(bytes, 0, firstRowAt, 1);
    return findHeader(bytes, last, reading, columns) !== undefined;
  });
  if (headed.length === 1) return headed[0]!;
  const left = headed.length > 1 ? headed : tables;
  const stated = left.filter(({ reading }) => reading.paired === true);
  if (options.delimiter === 'comma' && options.decimal === ',' && stated.length === 1) return stated[0]!;
  const candidates = left.map(
    (table) =>
      `${describeReading(table.reading)}: first row ${Array.from(table.values.subarray(0, Math.min(table.columns, 6))).join(' | ')}`,
  );
  throw new PeakwrightError(
    'reading-ambiguous',
    `${caller}: ${where} can be read in ${left.length} ways that fit equally well: ${candidates.join('; ')}. Pass one of ${left.map(({ reading }) => optionsOf(reading)).join(', ')}.`,
    {
      ...(options.file === undefined ? {} : { file: options.file }),
      field: 'delimiter',
      row: left[0]!.firstRowLine,
      candidates,
    },
  );
}

function buildTraces(
  caller: string,
  where: string,
  table: ScannedTable,
  header: TableHeader | undefined,
  options: ResolvedFileOptions,
  diagnostics: Diagnostic[],
): Trace[] {
  const { columns, rows, values, timeColumn } = table;
  const heads: ColumnHeader[] = Array.from(
    { length: columns },
    (_, c) => header?.columns[c] ?? { text: '', name: `column ${c + 1}`, isTime: c === timeColumn },
  );
  const time = column(table, timeColumn);
  const place = options.file === undefined ? {} : { file: options.file };
  failUnlessIncreasing(caller, where, table, time, options);
  const timeUnit = options.timeUnit ?? heads[timeColumn]!.timeUnit;
  if (timeUnit === undefined) {
    throw new PeakwrightError(
      'unit-missing',
      `${caller}: ${where} does not say the unit of its times (column ${timeColumn + 1}${header === undefined ? ', no header' : `, headed "${heads[timeColumn]!.text.slice(0, 80)}"`}). Pass timeUnit: 'min' or timeUnit: 's'.`,
      {
        ...place,
        column: timeColumn + 1,
        field: 'timeUnit',
        expected: 'a unit of time in the header, or the option timeUnit',
      },
    );
  }
  const wanted = pickChannels(caller, where, table, heads, options);
  const traces: Trace[] = [];
  for (const c of wanted) {
    const signal = column(table, c);
    let numbers = 0;
    for (let i = 0; i < rows; i++) if (!Number.isNaN(signal[i]!)) numbers++;
    const head = heads[c]!;
    if (numbers < 2) {
      diagnostics.push({
        code: 'column-empty',
        message: `Column ${c + 1} (${head.name}) has fewer than two numbers; no trace was made of it.`,
        action: 'column left out',
        rows: 0,
        column: c + 1,
      });
      continue;
    }
    const signalUnit = options.signalUnit ?? head.signalUnit;
    if (signalUnit === undefined) {
      throw new PeakwrightError(
        'unit-missing',
        `${caller}: ${where} does not say the unit of its signal (column ${c + 1}${header === undefined ? ', no header' : `, headed "${head.text.slice(0, 80)}"`}). Pass signalUnit, for example signalUnit: 'mAU'.`,
        { ...place, column: c + 1, field: 'signalUnit', expected: 'a unit in the header, or the option signalUnit' },
      );
    }
    traces.push(
      createTrace({
        time,
        signal,
        timeUnit,
        signalUnit,
        unitProvenance: {
          time: options.timeUnit === undefined ? 'inferred' : 'declared',
          signal: options.signalUnit === undefined ? 'inferred' : 'declared',
        },
        injectedAt: options.injectedAt,
        missing: 'gap',
        duplicateTimes: options.duplicateTimes,
        backwardTimes: options.backwardTimes,
        meta: { file: options.file, channel: head.name, wavelength: head.wavelength },
      }),
    );
  }
  void values;
  return traces;
}

function pickChannels(
  caller: string,
  where: string,
  table: ScannedTable,
  heads: readonly ColumnHeader[],
  options: ResolvedFileOptions,
): number[] {
  const all = heads.map((_, c) => c).filter((c) => c !== table.timeColumn);
  const { channel } = options;
  if (channel === undefined) return all;
  const found = all.filter((c) =>
    typeof channel === 'number' ? c === channel - 1 : heads[c]!.text === channel || heads[c]!.name === channel,
  );
  if (found.length === 1) return found;
  const candidates = all.map((c) => `${heads[c]!.name} (column ${c + 1})`);
  throw new PeakwrightError(
    'channel-unknown',
    `${caller}: ${where} has ${found.length === 0 ? 'no' : 'more than one'} channel ${typeof channel === 'number' ? `in column ${channel}` : `"${channel.slice(0, 80)}"`}; there are ${candidates.slice(0, 20).join(', ')}.`,
    { ...(options.file === undefined ? {} : { file: options.file }), field: 'channel', value: channel, candidates },
  );
}

function column({ rows, columns, values }: ScannedTable, c: number): Float64Array {
  const out = new Float64Array(rows);
  for (let i = 0, j = c; i < rows; i++, j += columns) out[i] = values[j]!;
  return out;
}

/** Says file and line of a time that does not follow, before `createTrace` could only say its index. */
function failUnlessIncreasing(
  caller: string,
  where: string,
  table: ScannedTable,
  time: Float64Array,
  { duplicateTimes, backwardTimes, file }: ResolvedFileOptions,
): void {
  for (let i = 1; i < time.length; i++) {
    const t = time[i]!;
    const before = time[i - 1]!;
    if (t > before || (t === before ? duplicateTimes !== 'refuse' : backwardTimes !== 'refuse')) continue;
    const option = t === before ? 'duplicateTimes' : 'backwardTimes';
    throw new PeakwrightError(
      'trace-time-not-increasing',
      `${caller}: ${where}, line ${table.lines[i]!}, column ${table.timeColumn + 1}: time ${t} does not follow ${before} in line ${table.lines[i - 1]!}. Times must increase; the option ${option} says how to treat such rows.`,
      {
        ...(file === undefined ? {} : { file }),
        row: table.lines[i]!,
        column: table.timeColumn + 1,
        index: i,
        value: t,
        expected: `a time after ${before}`,
      },
    );
  }
}

const faultTexts: Readonly<Record<ScanFault, { text: string; expected: string }>> = {
  'row-not-numeric': { text: 'has no number in the column of times', expected: 'a number' },
  'row-width': { text: 'has another number of fields than the table', expected: 'as many fields as columns' },
  'row-empty': { text: 'has no reading besides its time', expected: 'a number' },
  'cell-empty': { text: 'is empty where a reading should be', expected: 'a number' },
  'cell-not-numeric': { text: 'is not a number', expected: 'a number' },
};

function describeFaults(bytes: Uint8Array, table: ScannedTable): Diagnostic[] {
  const diagnostics = table.events.map((event): Diagnostic => describeFault(bytes, event, table.columns));
  for (const [fault, { count, lastLine }] of table.surplus) {
    const isRow = fault.startsWith('row');
    diagnostics.push({
      code: fault,
      message: `${count} more ${isRow ? 'rows' : 'cells'}, up to line ${lastLine}: ${faultTexts[fault].text}.`,
      action: isRow ? 'row left out' : 'sample left out',
      rows: isRow ? count : 0,
      lastLine,
    });
  }
  return diagnostics;
}

function describeFault(bytes: Uint8Array, event: ScanEvent, columns: number): Diagnostic {
  const { fault, line, column: c, from, to } = event;
  const isRow = fault.startsWith('row');
  const found = excerptOf(bytes, from, to);
  const { text, expected } = faultTexts[fault];
  return {
    code: fault,
    message: `Line ${line}${isRow ? '' : `, column ${c},`} ${text}${isRow && fault === 'row-width' ? ` (${columns})` : ''}: found "${found}", expected ${expected}.`,
    action: isRow ? 'row left out' : 'sample left out',
    rows: isRow ? 1 : 0,
    line,
    column: c,
    found,
  };
}

function failNoTable(caller: string, where: string, bytes: Uint8Array, options: ResolvedFileOptions): never {
  const { kept } = listLines(bytes, 0, bytes.length, 1);
  const first = kept[0];
  const found = first === undefined ? '' : excerptOf(bytes, first.start, first.end);
  throw new PeakwrightError(
    'table-not-found',
    `${caller}: ${where} has no table of numbers: no delimiter and decimal mark give two rows with a time and a reading. ${first === undefined ? 'All lines are blank.' : `Line ${first.line} is "${found}".`}`,
    {
      ...(options.file === undefined ? {} : { file: options.file }),
      ...(first === undefined ? {} : { row: first.line, value: found }),
      expected: 'rows of numbers, times in one column',
    },
  );
}
