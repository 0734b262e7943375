import type { Content, TextEncoding } from './identify-content.js';

/** Text as UTF-8 bytes, whatever it was before. */
export interface DecodedText {
  readonly bytes: Uint8Array;
  readonly encoding: TextEncoding;
  /** [-] First byte that is not UTF-8, when the text was read as windows-1252 for that. */
  readonly notUtf8At?: number;
}

/** Characters of windows-1252 from 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252). */
const windows1252 =
  '\u20ac\u0081\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u008d\u017d\u008f' +
  '\u0090\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u009d\u017e\u0178';

/** Turns text bytes into UTF-8. Bytes that are already valid UTF-8 are not copied. */
export function decodeText(bytes: Uint8Array, content: Extract<Content, { kind: 'text' }>): DecodedText {
  const body = bytes.subarray(content.skip);
  if (content.encoding !== 'utf-8') return { bytes: fromUtf16(body, content.encoding), encoding: content.encoding };
  const wrong = findNotUtf8(body);
  if (wrong < 0) return { bytes: body, encoding: 'utf-8' };
  return { bytes: fromWindows1252(body), encoding: 'windows-1252', notUtf8At: wrong };
}

function fromUtf16(bytes: Uint8Array, encoding: 'utf-16le' | 'utf-16be'): Uint8Array {
  const decoder = new TextDecoder(encoding);
  const encoder = new TextEncoder();
  const chunk = 1 << 20;
  // One unit of two bytes becomes at most three bytes; an odd byte at the end becomes one replacement character.
  const out = new Uint8Array(Math.ceil(bytes.length / 2) * 3 + 3);
  let written = 0;
  for (let i = 0; i < bytes.length; i += chunk) {
    const text = decoder.decode(bytes.subarray(i, i + chunk), { stream: i + chunk < bytes.length });
    written += encoder.encodeInto(text, out.subarray(written)).written;
  }
  return out.subarray(0, written);
}

function fromWindows1252(bytes: Uint8Array): Uint8Array {
  const encoder = new TextEncoder();
  const encoded = Array.from(windows1252, (letter) => encoder.encode(letter));
  let size = 0;
  for (const byte of bytes) size += byte < 0x80 ? 1 : byte >= 0xa0 ? 2 : encoded[byte - 0x80]!.length;
  const out = new Uint8Array(size);
  let written = 0;
  for (const byte of bytes) {
    if (byte < 0x80) out[written++] = byte;
    else if (byte >= 0xa0) {
      out[written++] = 0xc0 | (byte >> 6);
      out[written++] = 0x80 | (byte & 0x3f);
    } else for (const part of encoded[byte - 0x80]!) out[written++] = part;
  }
  return out;
}

/** First byte that breaks the rules of UTF-8 (Unicode Standard, table 3-7), or -1. */
export function findNotUtf8(bytes: Uint8Array): number {
  const { length } = bytes;
  for (let i = 0; i < length; i++) {
    const byte = bytes[i]!;
    if (byte < 0x80) continue;
    const more =
      byte >= 0xc2 && byte <= 0xdf ? 1 : byte >= 0xe0 && byte <= 0xef ? 2 : byte >= 0xf0 && byte <= 0xf4 ? 3 : 0;
    if (more === 0 || i + more >= length) return i;
    const second = bytes[i + 1]!;
    const low = byte === 0xe0 ? 0xa0 : byte === 0xf0 ? 0x90 : 0x80;
    const high = byte === 0xed ? 0x9f : byte === 0xf4 ? 0x8f : 0xbf;
    if (second < low || second > high) return i;
    for (let k = 2; k <= more; k++) if ((bytes[i + k]! & 0xc0) !== 0x80) return i;
    i += more;
  }
  return -1;
}
