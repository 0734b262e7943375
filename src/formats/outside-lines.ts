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

/** [-] Lines kept; more are counted. */
export const mostLines = 10_000;

/** Where a line stands. */
export interface LinePlace {
  readonly start: number;
  readonly end: number;
}

/** Lines that are not blank between two bytes: the first {@link mostLines}, and their number. */
export function listLines(bytes: Uint8Array, from: number, to: number): { kept: LinePlace[]; count: number } {
  const kept: LinePlace[] = [];
  let count = 0;
  for (let start = from; start < to;) {
    const end = findLineEnd(bytes, start);
    let text = start;
    while (text < end && isSeparator(bytes[text]!)) text++;
    if (text < end && count++ < mostLines) kept.push({ start, end });
    start = afterLineBreak(bytes, end);
  }
  return { kept, count };
}
