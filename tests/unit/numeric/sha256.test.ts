import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { sha256 } from '../../../src/numeric/index.js';

describe('sha256', () => {
  // FIPS 180-4 examples, as published by NIST with the standard: one block, two blocks; and of nothing.
  test.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
  ])('of %o is the published one', (text, digest) => {
    expect(sha256(new TextEncoder().encode(text))).toBe(digest);
  });

  test('is that of another implementation at every length around the ends of blocks', () => {
    for (let length = 0; length < 200; length++) {
      const bytes = Uint8Array.from({ length }, (_, i) => (i * 37 + length) % 256);
      expect(sha256(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'));
    }
  });

  test('is that of another implementation for a long record', () => {
    const bytes = Uint8Array.from({ length: 1_000_003 }, (_, i) => (i * i) % 251);
    expect(sha256(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'));
  });
});
