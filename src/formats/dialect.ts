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
  /** The other mark, when it groups thousands as in `1.234,5`; absent when it does not occur. */
  readonly grouping?: '.' | ',';
  /**
   * Present when commas part the fields and are the decimal mark too, without
   * quotes, so that two pieces make one number: `0,5,12,25` is 0.5 and 12.25.
   */
  readonly paired?: true;
}

export const delimiterBytes = { comma: 44, semicolon: 59, tab: 9, blanks: 32 } as const;

/** Every reading that can be told apart, the plain ones first. */
export const readings: readonly TextReading[] = [
  { delimiter: 'comma', decimal: '.' },
  { delimiter: 'semicolon', decimal: '.' },
  { delimiter: 'semicolon', decimal: ',' },
  { delimiter: 'tab', decimal: '.' },
  { delimiter: 'tab', decimal: ',' },
  { delimiter: 'comma', decimal: ',' },
  { delimiter: 'comma', decimal: ',', paired: true },
  { delimiter: 'blanks', decimal: '.' },
  { delimiter: 'blanks', decimal: ',' },
];

/** The same reading with the other mark grouping thousands. */
export function withGrouping(reading: TextReading): TextReading {
  return { ...reading, grouping: reading.decimal === '.' ? ',' : '.' };
}

/** A reading in words, for messages. */
export function describeReading(reading: TextReading): string {
  const fields =
    reading.paired === true
      ? 'fields parted by every second comma'
      : `fields parted by ${reading.delimiter === 'blanks' ? 'blanks' : `${reading.delimiter}s`}`;
  const grouping = reading.grouping === undefined ? '' : `, thousands grouped by ${markName(reading.grouping)}s`;
  return `${fields}, decimal ${markName(reading.decimal)}${grouping}`;
}

/** The options that choose this reading, for messages. */
export function optionsOf(reading: TextReading): string {
  return `{ delimiter: '${reading.delimiter}', decimal: '${reading.decimal}' }`;
}

function markName(mark: '.' | ','): string {
  return mark === '.' ? 'point' : 'comma';
}
