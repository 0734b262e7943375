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
  readonly action: 'row left out' | 'sample left out' | 'column left out' | 'noted';
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

/** A diagnostic; without `details` nothing was left out. */
export function note(code: string, message: string, details: Partial<Diagnostic> = {}): Diagnostic {
  return { code, message, action: 'noted', rows: 0, ...details };
}

/** Text of the file for a message: no control characters, at most 80 characters. */
export function excerpt(text: string): string {
  // Direction marks and unpaired surrogates could garble the message around them.
  return text
    .slice(0, 400)
    .replaceAll(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]+/gu, ' ')
    .trim()
    .replace(/^(.{77}).{4,}$/u, '$1...');
}

/** Text of a stretch of bytes in UTF-8, cut at 2000 bytes. */
export function decodePart(bytes: Uint8Array, from: number, to: number): string {
  return new TextDecoder().decode(bytes.subarray(from, Math.min(to, from + 2000)));
}
