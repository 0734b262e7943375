import { failOption } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { decodeText } from './decode-text.js';
import { readDelimitedText } from './delimited-text.js';
import { note, type Diagnostic } from './diagnostic.js';
import type { TextReading } from './dialect.js';
import { checkFileOptions, type FileOptions } from './file-options.js';
import { identifyContent, type TextEncoding } from './identify-content.js';
import { createLineCounter, failFile, type Source } from './locate.js';
import type { FileLine } from './outside-lines.js';

/**
 * Everything a file held.
 *
 * @public
 */
export interface ParsedFile {
  /** Kind of file the bytes were. */
  readonly format: 'delimited text';
  /** One trace for each column of signal, in the order of the file. */
  readonly traces: readonly Trace[];
  /** Tables of peaks that came with the traces; delimited text holds none. */
  readonly peakTables: readonly [];
  /** What the reader noticed: every row and cell that was left out, and what it took for granted. */
  readonly diagnostics: readonly Diagnostic[];
  /** Lines before and after the table, the header not among them. */
  readonly metadata: readonly FileLine[];
  /** How the text was read. */
  readonly reading: TextReading & { readonly encoding: TextEncoding };
  /** Rows from the header, or else the first, to the last; blank lines not among them. */
  readonly rows: {
    /** [-] Rows found; `used + leftOut`. */
    readonly found: number;
    /** [-] Rows with a time and at least one reading. */
    readonly used: number;
    /** [-] Rows left out; each is in `diagnostics`. */
    readonly leftOut: number;
  };
}

/**
 * Turns the bytes or the text of an exported file into traces.
 *
 * Delimited text is read: fields parted by commas, semicolons, tabs or blanks,
 * numbers with a decimal point or comma, in UTF-8, UTF-16 (with its mark) or windows-1252, with
 * any line ends, lines before and after the table, a header with units (in the
 * names or in a row of their own), quoted fields, several signals. What parts
 * the fields, the decimal mark, the header and the column of times are found
 * together: each possible reading is tried on the whole file, and the one under
 * which most lines are rows with increasing times is taken. When two fit equally
 * well and give different numbers, that is an error, never a guess.
 *
 * Every row is in a trace or in `diagnostics`. A row with a time and no reading
 * is left out and leaves a gap in the trace.
 *
 * A unit found in the file is `'inferred'`, one stated as an option is
 * `'declared'`; one that is in neither is an error that says what to pass.
 *
 * @param bytesOrText - The file as it is on disk, or its text. Bytes are better:
 *   they show what the file really is, and no letter was lost on the way.
 * @param options - What the file does not say itself; see {@link FileOptions}.
 *
 * @returns The traces, one for each column of signal, and everything noticed.
 *
 * @throws {@link PeakwrightError} `file-empty`; `file-not-readable` when the
 *   bytes are not text, and which kind of file they are; `table-not-found` when
 *   no reading gives two rows with a time and a reading.
 * @throws {@link PeakwrightError} `reading-ambiguous` when several readings fit:
 *   `details.candidates` lists them, `delimiter` and `decimal` choose.
 * @throws {@link PeakwrightError} `unit-missing` or `unit-unknown`;
 *   `trace-time-not-increasing` with the line; `channel-unknown` or
 *   `column-unknown` with those there are in `details.candidates`.
 * @throws {@link PeakwrightError} `option-unknown` or `option-invalid`.
 *
 * @example
 * ```ts
 * const file = parseFile('Vanilla extract 3\nZeit/min;UV 280 nm [mAU]\n0,00;1,5\n0,01;2,5\n0,02;\n0,03;4,5\n');
 * file.reading; // => { delimiter: 'semicolon', decimal: ',', encoding: 'utf-8' }
 * Array.from(file.traces[0].signal); // => [1.5, 2.5, 4.5]
 * file.diagnostics[0].message; // => 'Line 5 has a time and no reading: "0,02;". The row was left out.'
 * ```
 *
 * @remarks
 * Cost: linear in the number of bytes, for any input; a million rows of two
 * numbers take a fraction of a second.
 *
 * @public
 */
export function parseFile(bytesOrText: Uint8Array | ArrayBuffer | string, options: FileOptions = {}): ParsedFile {
  return parseFileFor('parseFile', bytesOrText, options);
}

/**
 * The traces of {@link parseFile}, for a caller who needs nothing else.
 *
 * @param bytesOrText - The file as it is on disk, or its text.
 * @param options - What the file does not say itself; see {@link FileOptions}.
 *
 * @returns One trace for each column of signal, in the order of the file.
 *
 * @throws {@link PeakwrightError} as {@link parseFile} does.
 *
 * @example
 * ```ts
 * const [trace] = parseTrace('time_s,signal_mAU\n0,1\n30,2\n60,3\n');
 * Array.from(trace.time); // => [0, 0.5, 1]
 * ```
 *
 * @public
 */
export function parseTrace(
  bytesOrText: Uint8Array | ArrayBuffer | string,
  options: FileOptions = {},
): readonly Trace[] {
  return parseFileFor('parseTrace', bytesOrText, options).traces;
}

/** {@link parseFile} under the name of the function the caller called. */
export function parseFileFor(
  caller: string,
  bytesOrText: Uint8Array | ArrayBuffer | string,
  options: FileOptions,
): ParsedFile {
  checkFileOptions(caller, options);
  const source: Source = { caller, file: options.file };
  const bytes = toBytes(caller, bytesOrText);
  if (bytes.length === 0) failFile(source, 'file-empty', ' is empty (0 bytes). Export it again.');
  const { encoding, other } = identifyContent(bytes);
  if (encoding === undefined) {
    failFile(source, 'file-not-readable', ` is ${other}. Export the trace as text (CSV).`, { value: other });
  }
  const text = decodeText(bytes, encoding);
  const { reading, diagnostics, ...found } = readDelimitedText(source, text.bytes, options);
  return {
    format: 'delimited text',
    peakTables: [],
    ...found,
    diagnostics: text.encoding === 'windows-1252' ? [noteEncoding(bytes), ...diagnostics] : diagnostics,
    reading: { ...reading, encoding: text.encoding },
  };
}

function toBytes(caller: string, given: Uint8Array | ArrayBuffer | string): Uint8Array {
  if (typeof given === 'string') return new TextEncoder().encode(given);
  if (given instanceof Uint8Array) return given;
  if (given instanceof ArrayBuffer) return new Uint8Array(given);
  return failOption(caller, 'bytesOrText', 'text, a Uint8Array or an ArrayBuffer', given);
}

function noteEncoding(bytes: Uint8Array): Diagnostic {
  const line = createLineCounter(bytes)(bytes.findIndex((byte) => byte > 127));
  return note(
    'encoding-assumed',
    `The text is not UTF-8 and was read as windows-1252; check letters such as µ from line ${line} on.`,
    { line },
  );
}
