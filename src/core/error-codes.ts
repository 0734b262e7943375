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
} as const;

/**
 * The codes, for example `'option-unknown'`.
 *
 * @public
 */
export type ErrorCode = keyof typeof errorCodes;
