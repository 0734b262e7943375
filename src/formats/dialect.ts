/**
 * One way of reading delimited text.
 *
 * @public
 */
export interface TextReading {
  /** What stands between two fields; `'blanks'` is any run of spaces and tabs. */
  readonly delimiter: 'comma' | 'semicolon' | 'tab' | 'blanks';
  /**
   * Decimal mark of the numbers. Between commas a decimal comma stands in quotes,
   * or else two pieces make one number: `0,5,12,25` is 0.5 and 12.25.
   */
  readonly decimal: '.' | ',';
}

export const delimiterBytes = { comma: 44, semicolon: 59, tab: 9, blanks: 32 } as const;
