import { PeakwrightError } from '../core/index.js';
import type { FileOptions } from '../formats/index.js';
import type { Trace } from '../trace/index.js';
import { readTraceFileFor } from './read-trace-file.js';

/**
 * Reads the one trace of a file, or the one of several that `channel` names.
 * What the reader noticed on the way is in {@link readTraceFile}; the doubts
 * that concern the trace are in its `warnings` too.
 *
 * @param path - Path of the file; up to 2 GiB less one byte.
 * @param options - `channel`, and what the file does not say itself; see
 *   {@link FileOptions}.
 *
 * @returns The trace.
 *
 * @throws {@link PeakwrightError} `channel-ambiguous` when the file holds several
 *   traces and `channel` is not given; `details.candidates` lists them.
 * @throws {@link PeakwrightError} everything that {@link readTraceFile} throws.
 *
 * @public
 */
export async function readTrace(path: string, options: FileOptions = {}): Promise<Trace> {
  const { traces } = await readTraceFileFor('readTrace', path, options);
  const [trace] = traces;
  if (trace !== undefined && traces.length === 1) return trace;
  const candidates = traces.map(({ meta }) => meta.channel ?? '');
  if (trace === undefined) {
    throw new PeakwrightError('table-not-found', `readTrace: ${path} holds no column with two readings or more.`, {
      file: path,
      expected: 'a column of readings beside the times',
    });
  }
  throw new PeakwrightError(
    'channel-ambiguous',
    `readTrace: ${path} has ${traces.length} channels: ${candidates.slice(0, 20).join(', ')}. Pass channel with the name of one.`,
    { file: path, field: 'channel', candidates },
  );
}
