/**
 * One way of reading delimited text.
 *
 * @public
 */
export interface TextReading {
  /** What stands between two fields; `'blanks'` is any run of spaces and tabs. */
  readonly delimiter: 'comma' | 'semicolon' | 'tab' | 'blanks';
  /** Decimal mark of the numbers. */
  readonly decimal: '.' | ',';
  /**
   * Present when commas part the fields and are the decimal mark too, without
   * quotes, so that two pieces make one number: `0,5,12,25` is 0.5 and 12.25.
   */
  readonly paired?: true;
}

export const delimiterBytes = { comma: 44, semicolon: 59, tab: 9, blanks: 32 } as const;

/** Every reading that can be told apart. */
export const readings: readonly TextReading[] = [
  ...(Object.keys(delimiterBytes) as TextReading['delimiter'][]).flatMap((delimiter) =>
    (['.', ','] as const).map((decimal) => ({ delimiter, decimal })),
  ),
  { delimiter: 'comma', decimal: ',', paired: true },
];
