import { failOption } from '../core/index.js';
import type { BackwardTimes, DuplicateTimes } from '../trace/index.js';
import { delimiterBytes, type TextReading } from './dialect.js';

/**
 * Options of {@link parseFile} and {@link parseTrace}. None is needed when the
 * file says everything itself.
 *
 * @public
 */
export interface FileOptions {
  /**
   * What parts the fields.
   *
   * @defaultValue found from the whole file
   */
  readonly delimiter?: TextReading['delimiter'] | undefined;
  /**
   * Decimal mark of the numbers. Together with `delimiter: 'comma'` a comma
   * means numbers in quotes, or two pieces to each number.
   *
   * @defaultValue found from the whole file
   */
  readonly decimal?: TextReading['decimal'] | undefined;
  /**
   * [-] Column of the times: its name in the header, or its number from 1.
   *
   * @defaultValue the one the header calls time, else the first
   */
  readonly timeColumn?: string | number | undefined;
  /**
   * Read only this column of signal: its name in the header, or its number
   * from 1, counted over all columns of the file.
   *
   * @defaultValue every column of numbers besides time
   */
  readonly channel?: string | number | undefined;
  /**
   * Unit of the times, for example `'min'` or `'s'`; goes before the header.
   *
   * @defaultValue from the header
   */
  readonly timeUnit?: string | undefined;
  /**
   * Unit of the signals, for example `'mAU'`; goes before the header.
   *
   * @defaultValue from the header
   */
  readonly signalUnit?: string | undefined;
  /**
   * [unit of the times] Moment of injection on the time axis of the file.
   *
   * @defaultValue none: time counts from the start of the record
   */
  readonly injectedAt?: number | undefined;
  /**
   * What to do with rows at one time; see {@link createTrace}.
   *
   * @defaultValue 'refuse'
   */
  readonly duplicateTimes?: DuplicateTimes | undefined;
  /**
   * What to do with rows earlier than one before them; see {@link createTrace}.
   *
   * @defaultValue 'refuse'
   */
  readonly backwardTimes?: BackwardTimes | undefined;
  /**
   * Name of the file, for messages and for the `meta` of the traces.
   *
   * @defaultValue none
   */
  readonly file?: string | undefined;
}

/** Every option, given or not. */
export type ResolvedFileOptions = { readonly [K in keyof FileOptions]-?: FileOptions[K] };

export const fileDefaults: ResolvedFileOptions = {
  delimiter: undefined,
  decimal: undefined,
  timeColumn: undefined,
  channel: undefined,
  timeUnit: undefined,
  signalUnit: undefined,
  injectedAt: undefined,
  duplicateTimes: 'refuse',
  backwardTimes: 'refuse',
  file: undefined,
};

type Check = readonly [expected: string, fits: (value: unknown) => boolean];

const column: Check = [
  'the name of a column, or its number from 1',
  (value) => typeof value === 'string' || (Number.isInteger(value) && Number(value) > 0),
];

const checks: { readonly [K in keyof FileOptions]?: Check } = {
  delimiter: ["'comma', 'semicolon', 'tab' or 'blanks'", (value) => Object.hasOwn(delimiterBytes, String(value))],
  decimal: ["'.' or ','", (value) => value === '.' || value === ','],
  timeColumn: column,
  channel: column,
  file: ['text', (value) => typeof value === 'string'],
};

/** Refuses values outside the documented ones; units and rules for times are checked by `createTrace`. */
export function checkFileOptions(caller: string, options: ResolvedFileOptions): void {
  for (const [field, [expected, fits]] of Object.entries(checks)) {
    const value = options[field as keyof FileOptions];
    if (value !== undefined && !fits(value)) failOption(caller, field, expected, value);
  }
}
