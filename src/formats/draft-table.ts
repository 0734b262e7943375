import type { TextReading } from './dialect.js';
import { readNumber } from './read-number.js';
import { afterLineBreak, createFields, findLineEnd, splitLine } from './split-line.js';

/** What the first lines say about the table under one reading. */
export interface Draft {
  readonly reading: TextReading;
  /** [-] Fields of a usual line, of which the last may always be empty. */
  readonly width: number;
  /** [-] Fields up to the last that is ever filled. */
  readonly columns: number;
  /** [-] Numbers found in each column. */
  readonly numbers: readonly number[];
  /** [-] Lines that look like rows. */
  readonly score: number;
}

/** [-] Lines looked at from the top. */
const topLines = 4000;

/** The most frequent number of fields among lines with two numbers or more. */
export function draftTable(bytes: Uint8Array, reading: TextReading): Draft | undefined {
  const drafts = new Map<number, { width: number; columns: number; numbers: number[]; score: number }>();
  const fields = createFields();
  const number = { next: 0 };
  const decimal = reading.decimal.charCodeAt(0);
  for (let start = 0, line = 0; line < topLines && start < bytes.length; line++) {
    const end = findLineEnd(bytes, start);
    splitLine(bytes, start, end, reading, fields);
    start = afterLineBreak(bytes, end);
    const { count: width, filled, starts, ends } = fields;
    const numeric: number[] = [];
    for (let c = 0; c < filled; c++) {
      readNumber(bytes, starts[c]!, ends[c]!, decimal, number);
      if (number.next === ends[c]) numeric.push(c);
    }
    if (numeric.length < 2) continue;
    const draft = drafts.get(width) ?? { width, columns: 0, numbers: [], score: 0 };
    drafts.set(width, draft);
    draft.score++;
    draft.columns = Math.max(draft.columns, filled);
    for (const c of numeric) draft.numbers[c] = (draft.numbers[c] ?? 0) + 1;
  }
  const [best] = [...drafts.values()].sort((a, b) => b.score - a.score);
  return best === undefined ? undefined : { reading, ...best };
}
