import { afterLineBreak, findLineEnd, isSeparator } from './split-line.js';

/**
 * A line of the file that is not part of the table.
 *
 * @public
 */
export interface FileLine {
  /** [-] Line, from 1. */
  readonly line: number;
  /** Its text, without the line break; longer ones are cut at 2000 bytes. */
  readonly text: string;
}

/** Where a line stands. */
export interface LinePlace {
  readonly start: number;
  readonly end: number;
}

/** Lines that are not blank between two bytes. */
export function listLines(bytes: Uint8Array, from: number, to: number): LinePlace[] {
  const lines: LinePlace[] = [];
  for (let start = from; start < to;) {
    const end = findLineEnd(bytes, start);
    let text = start;
    while (text < end && isSeparator(bytes[text]!)) text++;
    if (text < end) lines.push({ start, end });
    start = afterLineBreak(bytes, end);
  }
  return lines;
}
