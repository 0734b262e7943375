/* eslint-disable no-control-regex -- many of the first bytes by which files are told apart are control characters */

/** How the bytes of a text stand for characters. */
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** What the first bytes say about the rest: the encoding of a text, or which other kind of file it is. */
export interface Content {
  /** UTF-8 until shown otherwise, for a text without a mark of UTF-16. */
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
  [/^(?:\x89PNG|\xff\xd8\xff|GIF8|II\*\0|MM\0\*|RIFF)/, 'a picture'],
  [/^%PDF-/, 'a PDF document'],
  [/^(?:\x1f\x8b|BZh\d1AY|\xfd7zXZ|7z\xbc\xaf|\x28\xb5\x2f\xfd)/, 'compressed data'],
  [/^SQLite format/, 'a database'],
  [/^\s*<(?:!doctype html|html)/i, 'a web page (HTML)'],
  [/^\s*<[a-z!?][^>]*>/i, 'an XML document (mzML is one)'],
  [/^\s*(?:\{\s*"|\[\s*[[{\d])/, 'a JSON document'],
  [/^\s*##\s*TITLE\s*=/i, 'a JCAMP-DX file'],
];

/** Says what the bytes are. */
export function identifyContent(bytes: Uint8Array): Content {
  const head = String.fromCharCode(...bytes.subarray(0, 5000)).replace(/^\xef\xbb\xbf/, '');
  const other = kinds.find(([begins]) => begins.test(head))?.[1];
  if (other !== undefined) return { other };
  if (head.startsWith('\xff\xfe')) return { encoding: 'utf-16le' };
  if (head.startsWith('\xfe\xff')) return { encoding: 'utf-16be' };
  // Tab, line feed, form feed, carriage return and the old end-of-file mark do occur in texts.
  const control = head.match(/[\0-\x08\x0b\x0e-\x19\x1b-\x1f]/g)?.length ?? 0;
  const isText = control * 50 <= head.length;
  return isText ? { encoding: 'utf-8' } : { other: 'binary data, or text in UTF-16 without a byte order mark' };
}
