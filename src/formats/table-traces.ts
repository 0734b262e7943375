import { PeakwrightError } from '../core/index.js';
import { createTrace, parseSignalUnit, parseTimeUnit, type Trace } from '../trace/index.js';
import type { ColumnHeader } from './column-header.js';
import { excerpt, type Diagnostic } from './diagnostic.js';
import type { ResolvedFileOptions } from './file-options.js';
import { fileDetail, opening, type Source } from './locate.js';
import type { ScannedTable } from './scan-table.js';

/** One table of the file: rows `from` to before `to`, and what stands above its columns. */
export interface TablePart {
  readonly from: number;
  readonly to: number;
  readonly heads: readonly ColumnHeader[];
  /** [-] Line of the header, when there is one. */
  readonly headerLine?: number;
}

/** One column of signal. */
interface Channel {
  readonly part: TablePart;
  readonly column: number;
  readonly timeColumn: number;
  /** Unique among the channels of the file. */
  readonly name: string;
}

/** Columns headed by the number of the row hold no signal. */
const rowNumbers = /^(?:#|no|nr|n|index|idx|point|points|scan|row)\.?$/i;

/** A trace for every channel, or for the one asked for. */
export function createTraces(
  source: Source,
  table: ScannedTable,
  parts: readonly TablePart[],
  options: ResolvedFileOptions,
): { traces: Trace[]; diagnostics: Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  const channels = listChannels(table, parts, diagnostics);
  const traces: Trace[] = [];
  for (const channel of pickChannels(source, channels, options)) {
    const samples = samplesOf(table, channel);
    if (samples.numbers < 2) {
      diagnostics.push(leftOut(channel.column, `(${excerpt(channel.name)}) has fewer than two readings`));
    } else {
      traces.push(createOne(source, table, channel, samples, options));
      diagnostics.push(...overridden(channel, options, diagnostics));
    }
  }
  return { traces, diagnostics };
}

function listChannels(table: ScannedTable, parts: readonly TablePart[], diagnostics: Diagnostic[]): Channel[] {
  const channels: Channel[] = [];
  const taken = new Map<string, number>();
  for (const part of parts) {
    for (let column = 0; column < table.columns; column++) {
      const head = part.heads[column]!;
      if (table.timeColumns.includes(column)) continue;
      if (head.isTime || rowNumbers.test(head.name)) {
        const what = head.isTime ? 'another column of times' : 'a count of rows';
        diagnostics.push(leftOut(column, `(${excerpt(head.text)}) is ${what} by its header`));
        continue;
      }
      const timeColumn = table.timeColumns.findLast((c) => c < column) ?? table.timeColumns[0]!;
      const sameBefore = taken.get(head.name) ?? 0;
      taken.set(head.name, sameBefore + 1);
      const name = sameBefore === 0 ? head.name : `${head.name} (${sameBefore + 1})`;
      channels.push({ part, column, timeColumn, name });
    }
  }
  return channels;
}

function leftOut(column: number, why: string): Diagnostic {
  return {
    code: 'column-left-out',
    message: `Column ${column + 1} ${why}; no trace was made of it.`,
    action: 'column left out',
    rows: 0,
    column: column + 1,
  };
}

/** A unit of the caller that differs from that of the header, once for each column. */
function overridden(
  { part, column, timeColumn }: Channel,
  { timeUnit, signalUnit }: ResolvedFileOptions,
  told: readonly Diagnostic[],
): Diagnostic[] {
  const found: Diagnostic[] = [];
  const note = (c: number, header: string | undefined, given: string | undefined, same: boolean): void => {
    if (header === undefined || given === undefined || same) return;
    if (told.some((other) => other.code === 'unit-overridden' && other.column === c + 1)) return;
    found.push({
      code: 'unit-overridden',
      message: `The header of column ${c + 1} says ${excerpt(header)}; it was read in ${excerpt(given)}, as the options say.`,
      action: 'noted',
      rows: 0,
      column: c + 1,
      found: excerpt(header),
    });
  };
  const time = part.heads[timeColumn]!.timeUnit;
  const signal = part.heads[column]!.signalUnit;
  note(timeColumn, time, timeUnit, parseTimeUnit(time ?? '') === parseTimeUnit(timeUnit ?? ''));
  note(column, signal, signalUnit, bareUnit(signal) === bareUnit(signalUnit));
  return found;
}

function bareUnit(text = ''): string {
  return parseSignalUnit(text) ?? text.trim();
}

function pickChannels(
  source: Source,
  channels: readonly Channel[],
  { channel }: ResolvedFileOptions,
): readonly Channel[] {
  if (channel === undefined) return channels;
  const found = channels.filter(({ name, column, part }) =>
    typeof channel === 'number' ? column === channel - 1 : name === channel || part.heads[column]!.text === channel,
  );
  if (found.length === 1) return found;
  const candidates = channels.map(({ name, column }) => `${excerpt(name)} (column ${column + 1})`);
  const asked = typeof channel === 'number' ? `in column ${channel}` : `"${excerpt(channel)}"`;
  throw new PeakwrightError(
    'channel-unknown',
    `${opening(source)} has ${found.length === 0 ? 'no channel' : `${found.length} channels`} ${asked}; there are ${candidates.slice(0, 20).join(', ') || 'none'}. Pass channel with one of these names or numbers.`,
    { ...fileDetail(source), field: 'channel', value: channel, candidates },
  );
}

interface Samples {
  readonly time: Float64Array;
  readonly signal: Float64Array;
  /** [-] Row of the table of each sample. */
  readonly rows: Uint32Array;
  /** [-] Readings among them. */
  readonly numbers: number;
}

/** The samples of a channel; a row without its time is not among them, one without its reading is. */
function samplesOf({ values, columns }: ScannedTable, { part, column, timeColumn }: Channel): Samples {
  const most = part.to - part.from;
  const time = new Float64Array(most);
  const signal = new Float64Array(most);
  const rows = new Uint32Array(most);
  let kept = 0;
  let numbers = 0;
  for (let row = part.from; row < part.to; row++) {
    const t = values[row * columns + timeColumn]!;
    if (Number.isNaN(t)) continue;
    const y = values[row * columns + column]!;
    time[kept] = t;
    signal[kept] = y;
    rows[kept++] = row;
    if (!Number.isNaN(y)) numbers++;
  }
  return { time: time.subarray(0, kept), signal: signal.subarray(0, kept), rows: rows.subarray(0, kept), numbers };
}

function createOne(
  source: Source,
  table: ScannedTable,
  { part, column, timeColumn, name }: Channel,
  { time, signal, rows }: Samples,
  options: ResolvedFileOptions,
): Trace {
  failUnlessIncreasing(source, table, timeColumn, time, rows, options);
  const head = part.heads[column]!;
  const timeUnit = options.timeUnit ?? part.heads[timeColumn]!.timeUnit;
  if (timeUnit === undefined) failUnit(source, part, timeColumn, 'timeUnit', "timeUnit: 'min' or timeUnit: 's'");
  const signalUnit = options.signalUnit ?? head.signalUnit;
  if (signalUnit === undefined) failUnit(source, part, column, 'signalUnit', "signalUnit, for example 'mAU'");
  return createTrace({
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
    meta: { file: options.file, channel: name, wavelength: head.wavelength },
  });
}

function failUnit(source: Source, part: TablePart, column: number, field: string, pass: string): never {
  const { text } = part.heads[column]!;
  const header =
    part.headerLine === undefined ? 'there is no header' : `its header, line ${part.headerLine}, is "${excerpt(text)}"`;
  throw new PeakwrightError(
    'unit-missing',
    `${opening(source)} does not say the unit of ${field === 'timeUnit' ? 'the times' : 'the signal'} in column ${column + 1}: ${header}. Pass ${pass}.`,
    {
      ...fileDetail(source),
      ...(part.headerLine === undefined ? {} : { row: part.headerLine, value: excerpt(text) }),
      column: column + 1,
      field,
      expected: `a unit in the header, or the option ${field}`,
    },
  );
}

/** Says file and line of a time that does not follow, before `createTrace` could say only its index. */
function failUnlessIncreasing(
  source: Source,
  table: ScannedTable,
  timeColumn: number,
  time: Float64Array,
  rows: Uint32Array,
  { duplicateTimes, backwardTimes }: ResolvedFileOptions,
): void {
  for (let i = 1; i < time.length; i++) {
    const t = time[i]!;
    const before = time[i - 1]!;
    if (t > before) continue;
    const rule = t === before ? 'duplicateTimes' : 'backwardTimes';
    if ((t === before ? duplicateTimes : backwardTimes) !== 'refuse') continue;
    const line = table.lines[rows[i]!]!;
    throw new PeakwrightError(
      'trace-time-not-increasing',
      `${opening(source)}, line ${line}, column ${timeColumn + 1}: time ${t} does not follow ${before} in line ${table.lines[rows[i - 1]!]!}; times must increase. The option ${rule} says what to do with such rows.`,
      {
        ...fileDetail(source),
        row: line,
        column: timeColumn + 1,
        index: i,
        value: t,
        expected: `a time after ${before}`,
      },
    );
  }
}
