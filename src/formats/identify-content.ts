/* eslint-disable no-control-regex -- many of the first bytes by which files are told apart are control characters */

/** How the bytes of a text stand for characters. */
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** What the first bytes say about the rest: the encoding of a text, or which other kind of file it is. */
export interface Content {
  /** UTF-8 until shown otherwise, for a text without zero bytes. */
  readonly encoding?: Exclude<TextEncoding, 'windows-1252'>;
  readonly other?: string;
}

/** How files begin that are no delimited text, as published with each format, one letter a byte. */
const kinds: readonly (readonly [begins: RegExp, what: string])[] = [
  // An HDF5 file may begin with a block of the user, of 512 bytes or a power of two more.
  [/^(?:[^]{512}){0,8}\x89HDF\r\n/, 'an HDF5 file (netCDF-4 is one)'],
  [/^CDF[\x01\x02\x05]/, 'a netCDF classic file'],
  [/^PK[\x03\x05]/, 'a zip archive (xlsx and ods are some)'],
  [/^\xd0\xcf\x11\xe0/, 'a compound document (xls is one)'],
  [/^\x89PNG/, 'a PNG picture'],
  [/^\xff\xd8\xff/, 'a JPEG picture'],
  [/^GIF8/, 'a GIF picture'],
  [/^(?:II\*\0|MM\0\*)/, 'a TIFF picture'],
  [/^RIFF/, 'a sound, a video or a WebP picture'],
  [/^[^]{4}ftyp/, 'a video, or a HEIC or AVIF picture'],
  [/^%PDF-/, 'a PDF document'],
  [/^\{\\rtf/, 'an RTF document'],
  [/^\x1f\x8b/, 'gzip-compressed data'],
  [/^BZh.1AY&SY/, 'bzip2-compressed data'],
  [/^\xfd7zXZ/, 'xz-compressed data'],
  [/^7z\xbc\xaf/, 'a 7z archive'],
  [/^\x28\xb5\x2f\xfd/, 'Zstandard-compressed data'],
  [/^SQLite format/, 'an SQLite database'],
  [/^PAR1/, 'a Parquet table'],
  [/^(?:\xff\xfe\0\0|\0\0\xfe\xff)/, 'text in UTF-32'],
  [/^\s*<(?:!doctype html|html)/i, 'a web page (HTML)'],
  [/^\s*<(?:[^]*<)?(?:indexed)?mzML\b/, 'an mzML document (XML)'],
  [/^\s*<[a-z!?][^>]*>/i, 'an XML document'],
  [/^\s*(?:\{\s*"|\[\s*[[{\d])/, 'a JSON document'],
  [/^\s*##\s*TITLE\s*=/i, 'a JCAMP-DX file'],
];

/** Says what the bytes are. */
export function identifyContent(bytes: Uint8Array): Content {
  const start = bytes.subarray(0, 5000);
  const head = String.fromCharCode(...start);
  const encoding = encodingOf(head);
  const other = nameKind(head) ?? (encoding && nameKind(new TextDecoder(encoding).decode(start)));
  if (other !== undefined) return { other };
  return encoding === undefined ? { other: 'binary data of a kind this reader does not know' } : { encoding };
}

function nameKind(head: string): string | undefined {
  return kinds.find(([begins]) => begins.test(head))?.[1];
}

function encodingOf(head: string): Content['encoding'] {
  if (head.startsWith('\xff\xfe')) return 'utf-16le';
  if (head.startsWith('\xfe\xff')) return 'utf-16be';
  // Tab, line feed, form feed, carriage return and the old end-of-file mark do occur in texts.
  const control = head.match(/[\x01-\x08\x0b\x0e-\x19\x1b-\x1f]/g)?.length ?? 0;
  const zeros = [0, 0];
  for (let i = 0; i < head.length; i++) if (head[i] === '\0') zeros[i % 2]!++;
  const [even, odd] = zeros as [number, number];
  const half = head.length / 2;
  // Digits, marks and line breaks leave every second byte zero in UTF-16.
  if (half >= 2 && control * 20 <= half && Math.max(even, odd) >= half * 0.7 && Math.min(even, odd) * 20 <= half) {
    return odd > even ? 'utf-16le' : 'utf-16be';
  }
  return (control + even + odd) * 50 > head.length ? undefined : 'utf-8';
}
