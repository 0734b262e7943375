import { constants } from 'node:buffer';
import { readFile, stat } from 'node:fs/promises';
import { describe, failOption, PeakwrightError } from '../core/index.js';
import { parseFileFor, type FileOptions, type ParsedFile } from '../formats/index.js';

/** [bytes] Larger files are refused: 2 GiB less one byte, or the longest buffer of this platform when that is less. */
const largest = Math.min(2 ** 31 - 1, constants.MAX_LENGTH);

/**
 * Reads a file from disk as {@link parseFile} does, with the path in `meta.file`
 * of each trace and in every error. The file is only read, never changed.
 *
 * @param path - Path of the file; up to 2 GiB less one byte.
 * @param options - What the file does not say itself; see {@link FileOptions}.
 *   `file` replaces the path in traces and errors about the content.
 *
 * @returns The traces and everything noticed.
 *
 * @throws {@link PeakwrightError} `file-missing`, `file-too-large`, or
 *   `file-not-readable` when the path is a folder, may not be read, or the disk
 *   fails (then `cause` holds the error of the platform).
 * @throws {@link PeakwrightError} everything that {@link parseFile} throws.
 *
 * @public
 */
export async function readTraceFile(path: string, options: FileOptions = {}): Promise<ParsedFile> {
  return readTraceFileFor('readTraceFile', path, options);
}

/** {@link readTraceFile} under the name of the function the caller called. */
export async function readTraceFileFor(caller: string, path: string, options: FileOptions): Promise<ParsedFile> {
  if (typeof path !== 'string') failOption(caller, 'path', 'the path of a file', path);
  return parseFileFor(caller, await readBytes(caller, path), { ...options, file: options.file ?? path });
}

async function readBytes(caller: string, path: string): Promise<Uint8Array> {
  try {
    const about = await stat(path);
    if (about.isDirectory()) throw unreadable(caller, path, 'is a folder');
    if (about.size > largest) {
      throw new PeakwrightError(
        'file-too-large',
        `${caller}: ${path} has ${about.size} bytes; files of up to ${largest} bytes (2 GiB less one byte) are read. Export fewer channels, or crop the run.`,
        { file: path, value: about.size, expected: `at most ${largest} bytes` },
      );
    }
    return await readFile(path);
  } catch (cause) {
    if (cause instanceof PeakwrightError) throw cause;
    throw fileError(caller, path, cause);
  }
}

function fileError(caller: string, path: string, cause: unknown): PeakwrightError {
  const reason = cause instanceof Error && 'code' in cause ? String(cause.code) : 'unknown reason';
  if (reason === 'ENOENT' || reason === 'ENOTDIR') {
    const message = `${caller}: there is no file ${describe(path)}. Check the path.`;
    return new PeakwrightError('file-missing', message, { file: path }, { cause });
  }
  if (reason === 'EACCES' || reason === 'EPERM') return unreadable(caller, path, 'may not be read by this user', cause);
  return unreadable(caller, path, `cannot be read (${reason})`, cause);
}

function unreadable(caller: string, path: string, what: string, cause?: unknown): PeakwrightError {
  return new PeakwrightError(
    'file-not-readable',
    `${caller}: ${path} ${what}.`,
    { file: path },
    cause === undefined ? undefined : { cause },
  );
}
