import type { ErrorDetails } from '../core/index.js';
import { excerpt } from './diagnostic.js';

/** Who reads, and what: for the beginning of every message. */
export interface Source {
  /** Name of the public function. */
  readonly caller: string;
  /** Name of the file, if known. */
  readonly file: string | undefined;
}

/** `readTrace: run-7.csv`, or `parseFile: the text` when the file has no name. */
export function opening({ caller, file }: Source): string {
  return `${caller}: ${file === undefined ? 'the text' : excerpt(file)}`;
}

/** The file, for the details of an error. */
export function fileDetail({ file }: Source): Pick<ErrorDetails, 'file'> {
  return file === undefined ? {} : { file };
}
