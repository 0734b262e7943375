/**
 * Every code a {@link PeakwrightError} can carry, with what it means. The page of
 * errors in the documentation is made from these comments; nothing of it is left
 * at run time.
 *
 * @public
 */
export interface ErrorCodes {
  /** An option or setting has a name the function does not know. */
  readonly 'option-unknown': true;
  /** An option lies outside the range, or is not of the kind, its documentation gives. */
  readonly 'option-invalid': true;
  /** Time and signal cannot form a trace: lengths differ, a value is not finite, or there are too few. */
  readonly 'trace-invalid': true;
  /** A sample is not later than the one before it, and no way to treat it was chosen. */
  readonly 'trace-time-not-increasing': true;
  /** The trace has fewer samples than the operation needs. */
  readonly 'trace-too-short': true;
  /** A unit is not in the data and was not stated. */
  readonly 'unit-missing': true;
  /** A unit was stated in a spelling that is not known. */
  readonly 'unit-unknown': true;
  /** Two quantities have units that cannot be converted into each other without a stated scale. */
  readonly 'unit-mismatch': true;
  /** The blank does not cover the time of the run. */
  readonly 'blank-too-short': true;
  /** A calibration point does not say what was injected as the first point does, or its numbers are too large or too small to compute with. */
  readonly 'calibration-point-invalid': true;
  /** Fewer than three different calibration points are left for a line. */
  readonly 'calibration-too-few-points': true;
  /** All calibration points have the same amount. */
  readonly 'calibration-one-level': true;
  /** There is no file at the path. */
  readonly 'file-missing': true;
  /** The file has no bytes. */
  readonly 'file-empty': true;
  /** The file is larger than the stated limit. */
  readonly 'file-too-large': true;
  /** The file cannot be opened, or is of a kind that is not read; the message says which. */
  readonly 'file-not-readable': true;
  /** The text holds no table of numbers that could be a trace. */
  readonly 'table-not-found': true;
  /** The text can be read in several ways that fit equally well and give different numbers. */
  readonly 'reading-ambiguous': true;
  /** No column of signal, or more than one, has the name or number given. */
  readonly 'channel-unknown': true;
  /** One trace was asked for and the file holds several. */
  readonly 'channel-ambiguous': true;
  /** No column, or more than one, has the name or number given for the times. */
  readonly 'column-unknown': true;
  /** An integration plan contradicts itself or the trace. */
  readonly 'plan-invalid': true;
  /** Two rules of a method cannot both hold; the message names both. */
  readonly 'rules-contradict': true;
  /** A number to be written is NaN or infinite; a number that is not known is left out instead. */
  readonly 'result-not-finite': true;
}

/**
 * The codes, for example `'option-unknown'`.
 *
 * @public
 */
export type ErrorCode = keyof ErrorCodes;
