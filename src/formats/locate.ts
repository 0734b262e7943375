import { fail, type ErrorCode, type ErrorDetails } from '../core/index.js';
import { excerpt } from './diagnostic.js';

/** Who reads, and what: for the beginning of every message. */
export interface Source {
  /** Name of the public function. */
  readonly caller: string;
  /** Name of the file, if known. */
  readonly file: string | undefined;
}

/** Throws an error about a file; `what` follows `readTrace: run-7.csv`, or `parseFile: the text` when it has no name. */
export function failFile({ caller, file }: Source, code: ErrorCode, what: string, details: ErrorDetails = {}): never {
  const name = file === undefined ? 'the text' : excerpt(file);
  fail(caller, code, name + what, file === undefined ? details : { file, ...details });
}

/** Counts lines as an editor shows them, for places asked for from the top down. */
export function createLineCounter(bytes: Uint8Array): (at: number) => number {
  let line = 1;
  let next = 0;
  return (at) => {
    for (; next < at; next++) if (bytes[next] === 10 || (bytes[next] === 13 && bytes[next + 1] !== 10)) line++;
    return line;
  };
}
