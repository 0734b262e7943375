/**
 * Every code a {@link PeakwrightError} can carry, with what it means. The list
 * in the documentation is made from this table.
 *
 * @public
 */
export const errorCodes = {
  'option-unknown': 'An option or setting has a name the function does not know.',
  'option-invalid': 'An option lies outside the range, or is not of the kind, its documentation gives.',
  'trace-invalid': 'Time and signal cannot form a trace: lengths differ, a value is not finite, or there are too few.',
  'trace-time-not-increasing': 'A sample is not later than the one before it, and no way to treat it was chosen.',
  'trace-too-short': 'The trace has fewer samples than the operation needs.',
  'unit-missing': 'A unit is not in the data and was not stated.',
  'unit-unknown': 'A unit was stated in a spelling that is not known.',
  'unit-mismatch': 'Two quantities have units that cannot be converted into each other without a stated scale.',
  'calibration-point-invalid':
    'A calibration point has a number that cannot be used, or does not say what was injected as the first point does.',
  'calibration-too-few-points': 'Fewer than three different calibration points are left for a line.',
  'calibration-one-level': 'All calibration points have the same amount.',
  'file-missing': 'There is no file at the path.',
  'file-empty': 'The file has no bytes.',
  'file-too-large': 'The file is larger than the stated limit.',
  'file-not-readable': 'The file cannot be opened, or is of a kind that is not read; the message says which.',
  'table-not-found': 'The text holds no table of numbers that could be a trace.',
  'reading-ambiguous': 'The text can be read in several ways that fit equally well and give different numbers.',
  'channel-unknown': 'No column of signal, or more than one, has the name or number given.',
  'channel-ambiguous': 'One trace was asked for and the file holds several.',
  'column-unknown': 'No column, or more than one, has the name or number given for the times.',
  'plan-invalid': 'An integration plan contradicts itself or the trace.',
  'result-not-finite': 'A number to be written is NaN or infinite; a number that is not known is left out instead.',
} as const;

/**
 * The codes, for example `'option-unknown'`.
 *
 * @public
 */
export type ErrorCode = keyof typeof errorCodes;
