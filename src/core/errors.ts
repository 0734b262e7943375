import type { ErrorCode } from './error-codes.js';

/**
 * Where a rule was broken and by what; only what is known is present.
 *
 * @public
 */
export interface ErrorDetails {
  /** Path or name of the file. */
  readonly file?: string;
  /** [-] Line of the file or row of the table, counted from 1. */
  readonly row?: number;
  /** [-] Column of the table, counted from 1. */
  readonly column?: number;
  /** [-] Index of the sample, counted from 0. */
  readonly index?: number;
  /** Name of the option, setting or column. */
  readonly field?: string;
  /** What was found; long text is cut. */
  readonly value?: unknown;
  /** What was expected instead. */
  readonly expected?: string;
  /** The possibilities, when there are several. */
  readonly candidates?: readonly string[];
}

/**
 * The one error this library throws on purpose: a documented rule was broken.
 * Imperfect data is not an error but a warning in the result. The `message`
 * says what, where and what to do, for people; `code` and `details` are for
 * programs.
 *
 * @public
 */
export class PeakwrightError extends Error {
  override readonly name = 'PeakwrightError';
  /** Which rule was broken; see {@link ErrorCodes}. */
  readonly code: ErrorCode;
  /** Where, what was found, what was expected. */
  readonly details: ErrorDetails;

  /** Takes the code, one sentence for people, and the facts for programs. */
  constructor(code: ErrorCode, message: string, details: ErrorDetails = {}, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
    this.details = details;
  }

  /** What a worker has to post so that the error can be rebuilt on the other side. */
  toJSON(): { code: ErrorCode; message: string; details: ErrorDetails } {
    return { code: this.code, message: this.message, details: this.details };
  }
}

/**
 * Tells a {@link PeakwrightError} from any other thrown value, also when two
 * copies of the library are loaded.
 *
 * @public
 */
export function isPeakwrightError(value: unknown): value is PeakwrightError {
  return value instanceof Error && value.name === 'PeakwrightError' && 'code' in value && 'details' in value;
}

/** Throws a {@link PeakwrightError} whose message begins with the function the caller called. */
export function fail(caller: string, code: ErrorCode, message: string, details?: ErrorDetails): never {
  throw new PeakwrightError(code, `${caller}: ${message}`, details);
}
