import { createTrace, parseSignalUnit, parseTimeUnit, type Trace } from '../trace/index.js';
import { excerpt, note, type Diagnostic } from './diagnostic.js';
import type { ResolvedFileOptions } from './file-options.js';
import type { ReadTable } from './infer-reading.js';
import { createLineCounter, failFile, type Source } from './locate.js';
import type { FileLine } from './outside-lines.js';
import { failColumn, labelColumn, nameColumn } from './table-columns.js';

/** What a table was read from. */
export interface TableContext {
  readonly source: Source;
  readonly bytes: Uint8Array;
  readonly options: ResolvedFileOptions;
  /** Lines outside the table. */
  readonly metadata: readonly FileLine[];
  /** Where differences between the options and the header are noted. */
  readonly diagnostics: Diagnostic[];
}

/** A trace for every column of signal, or for the one asked for. */
export function createTraces(table: ReadTable, signals: readonly number[], context: TableContext): Trace[] {
  const { options } = context;
  const { heads, values, rows, timeColumn } = table;
  const picked = pickSignals(table, signals, context);
  if (picked.length === 0) return [];
  failUnlessIncreasing(table, context);
  const timeUnit = findUnit(table, timeColumn, 'timeUnit', context);
  const time = values[timeColumn]!.subarray(0, rows);
  return picked.map((c) =>
    createTrace({
      time,
      signal: values[c]!.subarray(0, rows),
      timeUnit,
      signalUnit: findUnit(table, c, 'signalUnit', context),
      unitProvenance: { time: provenance(options.timeUnit), signal: provenance(options.signalUnit) },
      injectedAt: options.injectedAt,
      missing: 'gap',
      duplicateTimes: options.duplicateTimes,
      backwardTimes: options.backwardTimes,
      meta: { file: options.file, channel: nameColumn(table, c), wavelength: heads[c]!.wavelength },
    }),
  );
}

function provenance(given: string | undefined): 'declared' | 'inferred' {
  return given === undefined ? 'inferred' : 'declared';
}

function pickSignals(table: ReadTable, signals: readonly number[], context: TableContext): readonly number[] {
  const { channel } = context.options;
  if (channel === undefined) return signals;
  const found = signals.filter((c) =>
    typeof channel === 'number'
      ? c === channel - 1
      : nameColumn(table, c) === channel || table.heads[c]!.text === channel,
  );
  if (found.length !== 1) failColumn(context.source, 'channel', channel, table, signals);
  return found;
}

const units = {
  timeUnit: { parse: parseTimeUnit, example: 'min' },
  signalUnit: { parse: parseSignalUnit, example: 'mAU' },
};

/** The unit of a column: as the caller says, else the header, else the one unit that the lines outside state. */
function findUnit(table: ReadTable, column: number, field: 'timeUnit' | 'signalUnit', context: TableContext): string {
  const { source, options, metadata, diagnostics } = context;
  const { parse, example } = units[field];
  const given = options[field];
  const header = table.heads[column]![field];
  const unit = given ?? header ?? statedUnit(metadata, parse);
  if (unit === undefined) {
    failFile(
      source,
      'unit-missing',
      ` does not say the unit of ${labelColumn(table, column)}. Pass it, for example ${field}: '${example}'.`,
      {
        column: column + 1,
        field,
      },
    );
  }
  if (header !== undefined && (parse(header) ?? header) !== (parse(unit) ?? unit.trim())) {
    diagnostics.push(
      note(
        'unit-overridden',
        `Column ${column + 1} is in ${excerpt(header)} by its header; it was read in ${excerpt(unit)}, as the options say.`,
        { column: column + 1, found: excerpt(header) },
      ),
    );
  }
  return unit;
}

/** The unit in lines such as `Time unit: min`, when they all state the same. */
function statedUnit(lines: readonly FileLine[], parse: (text: string) => string | undefined): string | undefined {
  const stated = lines
    .slice(0, 100)
    .flatMap(({ text }) => parse(/^.{0,60}\bunits?\W{1,5}([^\s",;]{1,20})[\s",;]{0,20}$/i.exec(text)?.[1] ?? '') ?? []);
  return stated.every((unit) => unit === stated[0]) ? stated[0] : undefined;
}

/** Says file and line of a time that does not follow, before `createTrace` could say only its index. */
function failUnlessIncreasing(table: ReadTable, { source, bytes, options }: TableContext): void {
  for (const [rule, late] of [
    ['duplicateTimes', table.same],
    ['backwardTimes', table.earlier],
  ] as const) {
    if (late === undefined || options[rule] !== 'refuse') continue;
    const { at, time, previous } = late;
    const row = createLineCounter(bytes)(at);
    failFile(
      source,
      'trace-time-not-increasing',
      `, line ${row}: time ${time} does not follow ${previous}. The option ${rule} says what to do with such rows.`,
      {
        row,
        column: table.timeColumn + 1,
        value: time,
      },
    );
  }
}
