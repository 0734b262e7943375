/**
 * Something about a file that a reader noticed and did not pass over: what,
 * where, and what was done about it.
 *
 * @public
 */
export interface Diagnostic {
  /** Stable name, for programs, for example `'row-not-numeric'`. */
  readonly code: string;
  /** One sentence for people. */
  readonly message: string;
  /** What was done. */
  readonly action: 'row left out' | 'sample left out' | 'column left out' | 'kept as metadata' | 'noted';
  /** [-] Rows of the table that this leaves out; 0 when it is not about whole rows. */
  readonly rows: number;
  /** [-] Line of the file, from 1; the first, when there are several. */
  readonly line?: number;
  /** [-] Last line, when there are several. */
  readonly lastLine?: number;
  /** [-] Column of the table, from 1. */
  readonly column?: number;
  /** Text found there; at most 80 characters. */
  readonly found?: string;
}

/** Text of the file for a message: no control characters, at most 80 characters. */
export function excerpt(text: string): string {
  // Direction marks and unpaired surrogates could garble the message around them.
  const clean = text
    .slice(0, 400)
    .replaceAll(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]+/gu, ' ')
    .trim();
  const letters = Array.from(clean);
  return letters.length > 80 ? `${letters.slice(0, 77).join('')}...` : clean;
}

/** {@link excerpt} of bytes in UTF-8. */
export function excerptOf(bytes: Uint8Array, from: number, to: number): string {
  return excerpt(decodePart(bytes, from, Math.min(to, from + 400)));
}

/** Text of a stretch of bytes in UTF-8. */
export function decodePart(bytes: Uint8Array, from: number, to: number): string {
  return new TextDecoder().decode(bytes.subarray(from, to));
}
