import { readFile, stat } from 'node:fs/promises';
import { PeakwrightError } from '../core/index.js';
import { parseFileFor, type FileOptions, type ParsedFile } from '../formats/index.js';

/** [bytes] Larger files are refused: 2 GiB. */
const largest = 2 ** 31;

/**
 * Reads a file from disk into traces, as `parseFile` does, with `file` filled in.
 *
 * @public
 */
export async function readTraceFile(path: string, options: FileOptions = {}): Promise<ParsedFile> {
  return readTraceFileFor('readTraceFile', path, options);
}

/** {@link readTraceFile} under the name of the function the caller called. */
export async function readTraceFileFor(caller: string, path: string, options: FileOptions): Promise<ParsedFile> {
  return parseFileFor(caller, await readBytes(caller, path), { file: path, ...options });
}

async function readBytes(caller: string, path: string): Promise<Uint8Array> {
  try {
    const { size } = await stat(path);
    if (size > largest) {
      throw new PeakwrightError(
        'file-too-large',
        `${caller}: ${path} has ${size} bytes; files of up to ${largest} bytes (2 GiB) are read.`,
        { file: path, value: size, expected: `at most ${largest} bytes` },
      );
    }
    return await readFile(path);
  } catch (cause) {
    if (cause instanceof PeakwrightError) throw cause;
    throw fileError(caller, path, cause);
  }
}

function fileError(caller: string, path: string, cause: unknown): PeakwrightError {
  const reason = cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
  if (reason === 'ENOENT') {
    return new PeakwrightError('file-missing', `${caller}: there is no file ${path}.`, { file: path }, { cause });
  }
  const what =
    reason === 'EISDIR'
      ? 'is a folder'
      : reason === 'EACCES' || reason === 'EPERM'
        ? 'may not be read by this user'
        : `cannot be read (${reason})`;
  return new PeakwrightError('file-not-readable', `${caller}: ${path} ${what}.`, { file: path }, { cause });
}
