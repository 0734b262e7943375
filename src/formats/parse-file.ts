import { failOption, PeakwrightError, resolveOptions } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { decodeText } from './decode-text.js';
import { readDelimitedText } from './delimited-text.js';
import type { Diagnostic } from './diagnostic.js';
import type { TextReading } from './dialect.js';
import { checkFileOptions, fileDefaults, type FileOptions, type ResolvedFileOptions } from './file-options.js';
import { countLineBreaks } from './split-line.js';
import { identifyContent, type TextEncoding } from './identify-content.js';
import { fileDetail, opening, type Source } from './locate.js';
import type { FileLine } from './preamble.js';

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
  /** Rows between the first and the last, blank lines not among them. */
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
 * @public
 */
export function parseFile(bytesOrText: Uint8Array | ArrayBuffer | string, options: FileOptions = {}): ParsedFile {
  return parseFileFor('parseFile', bytesOrText, options);
}

/**
 * The traces of {@link parseFile}, for a caller who needs nothing else.
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
  const resolved: ResolvedFileOptions = resolveOptions(caller, fileDefaults, options);
  checkFileOptions(caller, resolved);
  const source: Source = { caller, file: resolved.file };
  const bytes = toBytes(caller, bytesOrText);
  const content = identifyContent(bytes);
  if (content.kind === 'empty') {
    throw new PeakwrightError('file-empty', `${opening(source)} is empty (0 bytes).`, fileDetail(source));
  }
  if (content.kind === 'other') {
    throw new PeakwrightError('file-not-readable', `${opening(source)} is ${content.what}. ${content.advice}`, {
      ...fileDetail(source),
      value: content.what,
      expected: 'delimited text',
    });
  }
  const text = decodeText(bytes, content);
  const diagnostics: Diagnostic[] = [];
  if (text.notUtf8At !== undefined) {
    const line = lineOf(bytes, text.notUtf8At);
    diagnostics.push({
      code: 'encoding-assumed',
      message: `Line ${line} is not UTF-8; the text was read as windows-1252. Check letters outside ASCII, such as µ.`,
      action: 'noted',
      rows: 0,
      line,
    });
  }
  const found = readDelimitedText(source, text.bytes, resolved);
  return {
    format: 'delimited text',
    traces: found.traces,
    peakTables: [],
    diagnostics: [...diagnostics, ...found.diagnostics],
    metadata: found.metadata,
    reading: { ...found.reading, encoding: text.encoding },
    rows: found.rows,
  };
}

function toBytes(caller: string, given: Uint8Array | ArrayBuffer | string): Uint8Array {
  if (typeof given === 'string') return new TextEncoder().encode(given);
  if (given instanceof Uint8Array) return given;
  if (given instanceof ArrayBuffer) return new Uint8Array(given);
  return failOption(caller, 'bytesOrText', 'text, a Uint8Array or an ArrayBuffer', given);
}

function lineOf(bytes: Uint8Array, at: number): number {
  return 1 + countLineBreaks(bytes, 0, at);
}
