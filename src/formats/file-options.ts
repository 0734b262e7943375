import { checkFields, checkOneOf, checkText, failOption, optional, type Check } from '../core/index.js';
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

const column: Check = (caller, field, value) => {
  if (value !== undefined && typeof value !== 'string' && !(Number.isInteger(value) && Number(value) > 0)) {
    failOption(caller, field, 'the name of a column, or its number from 1', value);
  }
};

function oneOf(...words: string[]): Check {
  return optional((caller, field, value) => {
    checkOneOf(caller, field, value, words);
  });
}

/** Refuses what is not documented; units, the injection and rules for times are checked by `createTrace`. */
export function checkFileOptions(caller: string, options: FileOptions): void {
  const later: Check = () => undefined;
  const checks: Readonly<Record<keyof FileOptions, Check>> = {
    delimiter: oneOf(...Object.keys(delimiterBytes)),
    decimal: oneOf('.', ','),
    timeColumn: column,
    channel: column,
    timeUnit: later,
    signalUnit: later,
    injectedAt: later,
    duplicateTimes: later,
    backwardTimes: later,
    file: optional(checkText),
  };
  checkFields(caller, checks, { ...options });
}
