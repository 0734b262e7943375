export type { Diagnostic } from './diagnostic.js';
export type { TextReading } from './dialect.js';
export type { FileOptions } from './file-options.js';
export type { TextEncoding } from './identify-content.js';
export { parseFile, parseFileFor, parseTrace, type ParsedFile } from './parse-file.js';
export type { FileLine } from './outside-lines.js';
