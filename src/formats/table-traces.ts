import { createTrace, parseSignalUnit, parseTimeUnit, type Trace } from '../trace/index.js';
import { excerpt, note, type Diagnostic } from './diagnostic.js';
import type { FileOptions } from './file-options.js';
import type { ReadTable } from './infer-reading.js';
import { createLineCounter, failFile, type Source } from './locate.js';
import type { FileLine } from './outside-lines.js';
import { failColumn, labelColumn, nameColumn } from './table-columns.js';

/** What a table was read from. */
export interface TableContext {
  readonly source: Source;
  readonly bytes: Uint8Array;
  readonly options: FileOptions;
  /** Lines outside the table. */
  readonly metadata: readonly FileLine[];
  /** Where differences between the options and the header are noted. */
  readonly diagnostics: Diagnostic[];
}

/** A trace for every column of signal, or for the one asked for. */
export function createTraces(table: ReadTable, signals: readonly number[], context: TableContext): Trace[] {
  const { source, options } = context;
  const { heads, values, rows, timeColumn } = table;
  const { channel, file, injectedAt, duplicateTimes, backwardTimes } = options;
  const picked = signals.filter(
    (c) => channel === undefined || [c + 1, nameColumn(table, c), heads[c]!.text].includes(channel),
  );
  if (channel !== undefined && picked.length !== 1) failColumn(source, 'channel', channel, table, signals);
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
      injectedAt,
      missing: 'gap',
      duplicateTimes,
      backwardTimes,
      meta: { file, channel: nameColumn(table, c), wavelength: heads[c]!.wavelength },
    }),
  );
}

function provenance(given: string | undefined): 'declared' | 'inferred' {
  return given === undefined ? 'inferred' : 'declared';
}

/** The unit of a column: as the caller says, else the header, else the one unit that the lines outside state. */
function findUnit(table: ReadTable, c: number, field: 'timeUnit' | 'signalUnit', context: TableContext): string {
  const { source, options, metadata, diagnostics } = context;
  const parse: (text: string) => string | undefined = field === 'timeUnit' ? parseTimeUnit : parseSignalUnit;
  const header = table.heads[c]![field];
  const unit = options[field] ?? header ?? statedUnit(metadata, parse);
  const column = c + 1;
  if (unit === undefined) {
    const example = field === 'timeUnit' ? 'min' : 'mAU';
    const what = ` does not say the unit of ${labelColumn(table, c)}. Pass it, for example ${field}: '${example}'.`;
    failFile(source, 'unit-missing', what, { column, field });
  }
  if (header !== undefined && (parse(header) ?? header) !== (parse(unit) ?? unit)) {
    const found = excerpt(header);
    const message = `Column ${column} is in ${found} by its header; it was read as the option ${field} says.`;
    diagnostics.push(note('unit-overridden', message, { column, found }));
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
  for (const [rule, way] of [
    ['duplicateTimes', 'first'],
    ['backwardTimes', 'drop'],
  ] as const) {
    const late = table[rule];
    if (late === undefined || (options[rule] ?? 'refuse') !== 'refuse') continue;
    const row = createLineCounter(bytes)(late.at);
    const what = `, line ${row}: time ${late.time} does not follow ${late.previous}. Correct the file, or pass ${rule}: '${way}'.`;
    failFile(source, 'trace-time-not-increasing', what, { row, column: table.timeColumn + 1, value: late.time });
  }
}
