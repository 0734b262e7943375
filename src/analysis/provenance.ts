import { sha256 } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';

/** Name and version of the library, as it stands in results; a test holds it to the package. */
export const libraryName = 'peakwright 0.1.0';

/**
 * SHA-256 of a trace: its times [min], then its signal, as little-endian doubles;
 * hexadecimal. It names the raw data a result was made from. Not taken by
 * {@link analyse} itself, because it costs more than the analysis.
 *
 * @param trace - The record.
 * @returns 64 hexadecimal digits.
 *
 * @public
 */
export function hashTrace(trace: Trace): string {
  const { time, signal } = trace;
  const doubles = new DataView(new ArrayBuffer(8 * (time.length + signal.length)));
  let at = -8;
  for (const values of [time, signal]) for (const value of values) doubles.setFloat64((at += 8), value, true);
  return sha256(new Uint8Array(doubles.buffer));
}
