import { sha256 } from '@noble/hashes/sha2.js';
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
  const hash = sha256.create();
  for (const { buffer, byteOffset, byteLength } of [trace.time, trace.signal]) {
    hash.update(new Uint8Array(buffer, byteOffset, byteLength));
  }
  return Array.from(hash.digest(), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
