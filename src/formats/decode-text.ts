import type { TextEncoding } from './identify-content.js';

/** Text as UTF-8 bytes, whatever it was before. */
export interface DecodedText {
  readonly bytes: Uint8Array;
  readonly encoding: TextEncoding;
}

/** Characters of windows-1252 from 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252). */
const windows1252 =
  '\u20ac\u0081\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u008d\u017d\u008f' +
  '\u0090\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u009d\u017e\u0178';

/** [bytes] Text is decoded in pieces of this length, since a string cannot hold the largest files. */
const piece = 1048576;

/**
 * Turns text bytes into UTF-8 without a byte order mark; what claims to be UTF-8
 * and is not is windows-1252. Bytes that are UTF-8 are checked and not copied.
 */
export function decodeText(bytes: Uint8Array, encoding: TextEncoding): DecodedText {
  if (encoding !== 'utf-8') return { bytes: toUtf8(bytes, encoding), encoding };
  const decoder = new TextDecoder(encoding, { fatal: true });
  try {
    for (let from = 0; from < bytes.length;) {
      let to = from + piece;
      while ((bytes[to]! & 0xc0) === 0x80) to++;
      decoder.decode(bytes.subarray(from, to));
      from = to;
    }
  } catch {
    return decodeText(bytes, 'windows-1252');
  }
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  return { bytes: hasMark ? bytes.subarray(3) : bytes, encoding };
}

function toUtf8(bytes: Uint8Array, encoding: TextEncoding): Uint8Array {
  const decoder = new TextDecoder(encoding);
  const encoder = new TextEncoder();
  // One byte of windows-1252, or one unit of UTF-16, becomes three bytes at most.
  const out = new Uint8Array(bytes.length * 3 + 3);
  let written = 0;
  for (let i = 0; i < bytes.length; i += piece) {
    let text = decoder.decode(bytes.subarray(i, i + piece), { stream: i + piece < bytes.length });
    // Some platforms take windows-1252 for its relative ISO 8859-1.
    if (encoding === 'windows-1252') text = text.replace(/[\x80-\x9f]/g, (c) => windows1252[c.charCodeAt(0) - 128]!);
    written += encoder.encodeInto(text, out.subarray(written)).written;
  }
  return out.subarray(0, written);
}
