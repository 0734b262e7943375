import { sha256 } from '@noble/hashes/sha2.js';
import type { Trace } from '../trace/index.js';

/** Name and version of the library, as it stands in results; a test holds it to the package. */
export const libraryName = 'peakwright 0.1.0';

/** SHA-256 of the times and the signal, as little-endian doubles one after the other, hexadecimal. */
export function traceHash(trace: Trace): string {
  const hash = sha256.create();
  for (const { buffer, byteOffset, byteLength } of [trace.time, trace.signal]) {
    hash.update(new Uint8Array(buffer, byteOffset, byteLength));
  }
  return Array.from(hash.digest(), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
