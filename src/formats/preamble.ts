import { decodePart } from './diagnostic.js';
import { afterLineBreak, countLineBreaks, findLineEnd } from './split-line.js';

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

/** [-] Lines kept on each side of the table; more are counted. */
export const mostLines = 10_000;
const longestLine = 2000;

/** Where a line stands. */
export interface LinePlace {
  readonly line: number;
  readonly start: number;
  readonly end: number;
}

/** Lines that are not blank between two bytes: the first {@link mostLines}, the last two, and their number. */
export function listLines(
  bytes: Uint8Array,
  from: number,
  to: number,
  firstLine: number,
): { kept: LinePlace[]; last: LinePlace[]; count: number } {
  const kept: LinePlace[] = [];
  let last: LinePlace[] = [];
  let count = 0;
  let line = firstLine;
  for (let at = from; at < to; line++) {
    const end = findLineEnd(bytes, at);
    if (!isBlankLine(bytes, at, end)) {
      const place = { line, start: at, end };
      if (kept.length < mostLines) kept.push(place);
      last = [...last.slice(-1), place];
      count++;
    }
    line += countLineBreaks(bytes, at, end);
    at = afterLineBreak(bytes, end);
  }
  return { kept, last, count };
}

export function lineText(bytes: Uint8Array, { line, start, end }: LinePlace): FileLine {
  return { line, text: decodePart(bytes, start, Math.min(end, start + longestLine)) };
}

function isBlankLine(bytes: Uint8Array, start: number, end: number): boolean {
  for (let i = start; i < end; i++) {
    const byte = bytes[i]!;
    if (byte !== 32 && byte !== 9 && byte !== 44 && byte !== 59) return false;
  }
  return true;
}
