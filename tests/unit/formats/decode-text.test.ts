import { describe, expect, test } from 'vitest';
import { decodeText, type DecodedText } from '../../../src/formats/decode-text.js';
import { parseFile } from '../../../src/index.js';

const text = 'Probe;Vanille-Auszug Ä\nZeit/min;Signal [µV]\n0,0;1,5\n0,5;2,5\n1,0;-3\n';

function utf16(littleEndian: boolean): Uint8Array {
  const units = Array.from(`\ufeff${text}`, (letter) => letter.charCodeAt(0));
  const view = new DataView(new ArrayBuffer(units.length * 2));
  units.forEach((unit, i) => view.setUint16(2 * i, unit, littleEndian));
  return new Uint8Array(view.buffer);
}

describe('One trace comes out of every encoding', () => {
  const wanted = parseFile(text);

  test.each([
    ['UTF-8', new TextEncoder().encode(text), 'utf-8'],
    ['UTF-8 with a byte order mark', new TextEncoder().encode(`\ufeff${text}`), 'utf-8'],
    ['UTF-16, little endian, with a mark', utf16(true), 'utf-16le'],
    ['UTF-16, big endian, with a mark', utf16(false), 'utf-16be'],
    ['windows-1252', Uint8Array.from(text, (letter) => letter.charCodeAt(0)), 'windows-1252'],
  ])('%s', (_, bytes, encoding) => {
    const file = parseFile(bytes);
    expect(file.reading.encoding).toBe(encoding);
    expect(file.traces).toStrictEqual(wanted.traces);
    expect(file.metadata).toStrictEqual([{ line: 1, text: 'Probe;Vanille-Auszug Ä' }]);
    expect(file.diagnostics.map(({ code, line }) => ({ code, line }))).toStrictEqual(
      encoding === 'windows-1252' ? [{ code: 'encoding-assumed', line: 1 }] : [],
    );
  });
});

test('UTF-16 without a byte order mark is refused, and the message says what is missing', () => {
  expect(() => parseFile(utf16(true).subarray(2))).toThrow('UTF-16 without a byte order mark');
});

// WHATWG Encoding Standard, index windows-1252 (the same as Python's codec cp1252, with its five holes kept as they
// are). The decoder of Node 20 reads this label as latin1, so it cannot be the judge here.
test('windows-1252 is read as the WHATWG Encoding Standard maps it', () => {
  const special = [
    0x20ac, 0x0081, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0x008d,
    0x017d, 0x008f, 0x0090, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a,
    0x0153, 0x009d, 0x017e, 0x0178,
  ];
  const bytes = Uint8Array.from({ length: 128 }, (_, i) => 128 + i);
  const rest = Array.from(bytes.subarray(32));
  const named = Uint8Array.from([...bytes, 10, ...new TextEncoder().encode('min,mAU\n0,1\n1,2\n')]);
  expect(parseFile(named).metadata[0]!.text).toBe(String.fromCodePoint(...special, ...rest));
});

// Node's own encoder writes UTF-16; windows-1252 has the euro sign at 0x80.
test.each<[DecodedText['encoding'], (content: string) => Uint8Array]>([
  ['utf-8', (content) => new TextEncoder().encode(content)],
  ['utf-16le', (content) => Buffer.from(content, 'utf16le')],
  ['windows-1252', (content) => Buffer.from(content.replaceAll('\u20ac', '\u0080'), 'latin1')],
])('letters on the border of two pieces stay whole, %s', (encoding, encode) => {
  const letters = encoding === 'windows-1252' ? '\u00b5\u20ac\u00b5\u20ac' : '\u00b5\u20ac\u{1f600}';
  for (let before = 0; before < 12; before++) {
    const content = 'x'.repeat((1 << 20) / (encoding === 'utf-16le' ? 2 : 1) - before) + letters;
    const decoded = decodeText(encode(content), encoding === 'utf-16le' ? encoding : 'utf-8');
    expect(decoded.encoding).toBe(encoding);
    expect(new TextDecoder().decode(decoded.bytes) === content, `${before} before`).toBe(true);
  }
});

// Well-formed and ill-formed sequences of the Unicode Standard, table 3-7 (from memory).
test.each<[number[], boolean]>([
  [[0xc2, 0x80], true],
  [[0xe0, 0xa0, 0x80], true],
  [[0xf4, 0x8f, 0xbf, 0xbf], true],
  [[0xc0, 0xaf], false],
  [[0xe0, 0x9f, 0x80], false],
  [[0xed, 0xa0, 0x80], false],
  [[0xf4, 0x90, 0x80, 0x80], false],
  [[0xc2], false],
  [[0x80], false],
])('the bytes %j are UTF-8: %j', (sequence, isUtf8) => {
  const bytes = Uint8Array.from([...sequence, ...new TextEncoder().encode('\nmin,mAU\n0,1\n1,2\n')]);
  expect(parseFile(bytes).reading.encoding).toBe(isUtf8 ? 'utf-8' : 'windows-1252');
});
