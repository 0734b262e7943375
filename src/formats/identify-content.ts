/** How the bytes of a text stand for characters. */
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** What the first bytes say about the rest. */
export type Content =
  | { readonly kind: 'empty' }
  | { readonly kind: 'text'; readonly encoding: Exclude<TextEncoding, 'windows-1252'>; readonly skip: number }
  | { readonly kind: 'other'; readonly what: string; readonly advice: string };

const exportText = 'Export the trace as text (CSV).';

/** First bytes by which files are told apart, as published with each format; `at` is where they stand. */
const signatures: readonly {
  readonly at?: number;
  readonly bytes: readonly number[];
  readonly what: string;
  readonly advice?: string;
}[] = [
  {
    bytes: [0x89, 0x48, 0x44, 0x46, 0x0d, 0x0a, 0x1a, 0x0a],
    what: 'an HDF5 file (netCDF-4 files are HDF5 too)',
    advice: 'Export classic netCDF or text.',
  },
  {
    bytes: [0x43, 0x44, 0x46, 0x01],
    what: 'a netCDF classic file',
    advice: 'This reader does not read netCDF; export the trace as text (CSV).',
  },
  {
    bytes: [0x43, 0x44, 0x46, 0x02],
    what: 'a netCDF file with 64-bit offsets',
    advice: 'This reader does not read netCDF; export the trace as text (CSV).',
  },
  {
    bytes: [0x43, 0x44, 0x46, 0x05],
    what: 'a netCDF file with 64-bit data',
    advice: 'This reader does not read netCDF; export the trace as text (CSV).',
  },
  {
    bytes: [0x50, 0x4b, 0x03, 0x04],
    what: 'a zip archive (spreadsheets in xlsx and ods are zip archives too)',
    advice: 'Unpack it, or save the sheet as CSV.',
  },
  { bytes: [0x50, 0x4b, 0x05, 0x06], what: 'an empty zip archive' },
  {
    bytes: [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1],
    what: 'a compound document (old spreadsheets in xls are such)',
    advice: 'Save the sheet as CSV.',
  },
  {
    bytes: [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    what: 'a PNG picture',
    advice: 'A picture of a trace holds no readings. Export the numbers as text (CSV).',
  },
  {
    bytes: [0xff, 0xd8, 0xff],
    what: 'a JPEG picture',
    advice: 'A picture of a trace holds no readings. Export the numbers as text (CSV).',
  },
  { bytes: [0x47, 0x49, 0x46, 0x38], what: 'a GIF picture' },
  { bytes: [0x49, 0x49, 0x2a, 0x00], what: 'a TIFF picture' },
  { bytes: [0x4d, 0x4d, 0x00, 0x2a], what: 'a TIFF picture' },
  { bytes: [0x52, 0x49, 0x46, 0x46], what: 'a RIFF file (sound, video or a WebP picture)' },
  { at: 4, bytes: [0x66, 0x74, 0x79, 0x70], what: 'a video, or a picture in HEIC or AVIF' },
  {
    bytes: [0x25, 0x50, 0x44, 0x46, 0x2d],
    what: 'a PDF document',
    advice: 'A printed report holds no readings. Export the numbers as text (CSV).',
  },
  { bytes: [0x25, 0x21, 0x50, 0x53], what: 'a PostScript document' },
  { bytes: [0x7b, 0x5c, 0x72, 0x74, 0x66], what: 'an RTF document', advice: 'Save it as plain text.' },
  { bytes: [0x1f, 0x8b], what: 'gzip-compressed data', advice: 'Unpack it first.' },
  { at: 4, bytes: [0x31, 0x41, 0x59, 0x26, 0x53, 0x59], what: 'bzip2-compressed data', advice: 'Unpack it first.' },
  { bytes: [0xfd, 0x37, 0x7a, 0x58, 0x5a, 0x00], what: 'xz-compressed data', advice: 'Unpack it first.' },
  { bytes: [0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c], what: 'a 7z archive', advice: 'Unpack it first.' },
  { bytes: [0x28, 0xb5, 0x2f, 0xfd], what: 'Zstandard-compressed data', advice: 'Unpack it first.' },
  { bytes: [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66, 0x6f, 0x72, 0x6d, 0x61, 0x74], what: 'an SQLite database' },
  { bytes: [0x50, 0x41, 0x52, 0x31], what: 'a Parquet table' },
  { bytes: [0x7f, 0x45, 0x4c, 0x46], what: 'a program (ELF)' },
  { bytes: [0xff, 0xfe, 0x00, 0x00], what: 'text in UTF-32', advice: 'Save it as UTF-8.' },
  { bytes: [0x00, 0x00, 0xfe, 0xff], what: 'text in UTF-32', advice: 'Save it as UTF-8.' },
];

/** Texts that are no delimited text, by how they begin. */
const openings: readonly { readonly pattern: RegExp; readonly what: string }[] = [
  { pattern: /^<(?:!doctype html|html)/i, what: 'a web page (HTML)' },
  { pattern: /^<(?:\?xml[^>]*\?>\s*(?:<!--[^]*?-->\s*)*<)?(?:indexedmzML|mzML)\b/, what: 'an mzML document (XML)' },
  { pattern: /^<(?:\?xml[^>]*\?>\s*(?:<!--[^]*?-->\s*)*<)?svg\b/, what: 'an SVG picture' },
  { pattern: /^<\?xml/, what: 'an XML document' },
  { pattern: /^<[a-z!][^>]*>/i, what: 'an XML or HTML document' },
  { pattern: /^(?:\{\s*"|\[\s*[[{\d])/, what: 'a JSON document' },
  { pattern: /^##\s*TITLE\s*=/i, what: 'a JCAMP-DX file' },
];

/** [-] How many bytes are looked at to tell text from binary data. */
const looked = 4096;

/** An HDF5 file may begin with a block of the user, of 512 bytes or a power of two more. */
const hdf5WithUserBlock = [512, 1024, 2048, 4096].map((at) => ({ ...signatures[0]!, at }));

/** Says what the bytes are: text and its encoding, or which other kind of file. */
export function identifyContent(bytes: Uint8Array): Content {
  if (bytes.length === 0) return { kind: 'empty' };
  for (const { at = 0, bytes: signature, what, advice = exportText } of [...signatures, ...hdf5WithUserBlock]) {
    if (signature.every((byte, i) => bytes[at + i] === byte)) return { kind: 'other', what, advice };
  }
  const text = encodingOf(bytes);
  if (text === undefined)
    return { kind: 'other', what: 'binary data of a kind this reader does not know', advice: exportText };
  const head = new TextDecoder(text.encoding).decode(bytes.subarray(text.skip, text.skip + looked)).trimStart();
  for (const { pattern, what } of openings) {
    if (pattern.test(head)) return { kind: 'other', what, advice: exportText };
  }
  return { kind: 'text', ...text };
}

const byteOrderMarks = [
  { bytes: [0xef, 0xbb, 0xbf], encoding: 'utf-8' },
  { bytes: [0xff, 0xfe], encoding: 'utf-16le' },
  { bytes: [0xfe, 0xff], encoding: 'utf-16be' },
] as const;

function encodingOf(bytes: Uint8Array): { encoding: Exclude<TextEncoding, 'windows-1252'>; skip: number } | undefined {
  for (const { bytes: mark, encoding } of byteOrderMarks) {
    if (mark.every((byte, i) => bytes[i] === byte)) return { encoding, skip: mark.length };
  }
  const n = Math.min(bytes.length, looked);
  let control = 0;
  const zeros = [0, 0];
  for (let i = 0; i < n; i++) {
    const byte = bytes[i]!;
    if (byte === 0) zeros[i % 2]!++;
    // Tab, line feed, form feed, carriage return and the old end-of-file mark do occur in texts.
    else if (byte < 32 && byte !== 9 && byte !== 10 && byte !== 12 && byte !== 13 && byte !== 26) control++;
  }
  const half = Math.floor(n / 2);
  if (n >= 4 && bytes.length % 2 === 0 && control * 20 <= half) {
    // Digits, marks and line breaks leave every second byte zero in UTF-16.
    if (zeros[1]! * 10 >= half * 7 && zeros[0]! * 20 <= half) return { encoding: 'utf-16le', skip: 0 };
    if (zeros[0]! * 10 >= half * 7 && zeros[1]! * 20 <= half) return { encoding: 'utf-16be', skip: 0 };
  }
  return (control + zeros[0]! + zeros[1]!) * 50 > n ? undefined : { encoding: 'utf-8', skip: 0 };
}
