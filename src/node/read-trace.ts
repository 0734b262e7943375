import { PeakwrightError } from '../core/index.js';
import type { FileOptions } from '../formats/index.js';
import type { Trace } from '../trace/index.js';
import { readTraceFileFor } from './read-trace-file.js';

/**
 * Reads the one trace of a file, or the one of several that `channel` names.
 *
 * @public
 */
export async function readTrace(path: string, options: FileOptions = {}): Promise<Trace> {
  const { traces } = await readTraceFileFor('readTrace', path, options);
  const [trace] = traces;
  if (trace !== undefined && traces.length === 1) return trace;
  const candidates = traces.map(({ meta }) => meta.channel ?? '');
  if (trace === undefined) {
    throw new PeakwrightError('table-not-found', `readTrace: ${path} has no column of readings.`, { file: path });
  }
  throw new PeakwrightError(
    'channel-ambiguous',
    `readTrace: ${path} has ${traces.length} channels; pass channel, one of ${candidates.slice(0, 20).join(', ')}.`,
    { file: path, field: 'channel', candidates },
  );
}
