import { describe, expect, test } from 'vitest';
import { parseFile } from '../../../src/index.js';

const ascii = (text: string): number[] => Array.from(text, (letter) => letter.charCodeAt(0));
const padded = (...bytes: number[]): Uint8Array =>
  Uint8Array.from([...bytes, ...Array.from({ length: 600 }, (_, i) => i % 7)]);

describe('A file that is no text is named for what it is', () => {
  // First bytes from the specifications: PNG (ISO/IEC 15948, 5.2), JPEG (ITU-T T.81, B.1.1.3), PDF (ISO 32000-1,
  // 7.5.2), ZIP (APPNOTE 4.3.7), GZIP (RFC 1952, 2.3.1), HDF5 (File Format Specification, II.A), netCDF (Classic
  // Format Specification), Zstandard (RFC 8878, 3.1.1), SQLite (File Format, 1.3), TIFF 6.0 (section 2).
  test.each([
    ['a photograph', padded(0xff, 0xd8, 0xff, 0xe0), 'a picture'],
    ['a screen shot', padded(0x89, ...ascii('PNG\r\n'), 0x1a, 0x0a), 'a picture'],
    ['a report', padded(...ascii('%PDF-1.7')), 'a PDF document'],
    ['a spreadsheet', padded(...ascii('PK'), 3, 4), 'a zip archive'],
    ['an old spreadsheet', padded(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1), 'a compound document'],
    ['HDF5', padded(0x89, ...ascii('HDF\r\n'), 0x1a, 0x0a), 'an HDF5 file (netCDF-4 is one)'],
    [
      'HDF5 after a block of the user',
      Uint8Array.from([...padded().subarray(0, 512), 0x89, ...ascii('HDF\r\n'), 0x1a, 0x0a]),
      'an HDF5 file',
    ],
    ['netCDF', padded(...ascii('CDF'), 1), 'a netCDF classic file'],
    ['gzip', padded(0x1f, 0x8b, 8), 'compressed data'],
    ['Zstandard', padded(0x28, 0xb5, 0x2f, 0xfd), 'compressed data'],
    ['SQLite', padded(...ascii('SQLite format 3'), 0), 'a database'],
    ['TIFF', padded(...ascii('II*'), 0), 'a picture'],
    ['anything else with many control bytes', padded(1, 2, 3), 'binary data'],
    ['a web page', Uint8Array.from(ascii('\n<!DOCTYPE html><html>')), 'a web page'],
    ['mzML', Uint8Array.from(ascii('<?xml version="1.0"?>\n<mzML>')), 'an XML document'],
    ['XML', Uint8Array.from(ascii('<?xml version="1.0"?><run/>')), 'an XML document'],
    ['JSON', Uint8Array.from(ascii('{ "time": [1, 2] }')), 'a JSON document'],
    ['JCAMP-DX', Uint8Array.from(ascii('##TITLE= vanilla\n##JCAMP-DX=5.0')), 'a JCAMP-DX file'],
  ])('%s', (_, bytes, what) => {
    expect(() => parseFile(bytes, { file: 'run-7.csv' })).toThrow(
      expect.objectContaining({
        code: 'file-not-readable',
        message: expect.stringContaining(`parseFile: run-7.csv is ${what}`),
        details: expect.objectContaining({ file: 'run-7.csv' }),
      }),
    );
  });

  test('an empty file is said to be empty', () => {
    for (const nothing of ['', new Uint8Array(0), new ArrayBuffer(0)]) {
      expect(() => parseFile(nothing)).toThrow(expect.objectContaining({ code: 'file-empty' }));
    }
  });

  test('what is neither text nor bytes is refused', () => {
    expect(() => parseFile(42 as unknown as string)).toThrow(expect.objectContaining({ code: 'option-invalid' }));
  });
});
