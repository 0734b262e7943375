/** First 32 bits of the fractional parts of the square roots, then of the cube roots, of the first primes. */
function constants(count: number, root: (n: number) => number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) {
    let prime = true;
    for (let d = 2; d * d <= n; d++) if (n % d === 0) prime = false;
    if (prime) found.push(Math.floor((root(n) % 1) * 4294967296) | 0);
  }
  return found;
}

/** Cube root by Newton steps from above: only the four operations, so that its bits are the same everywhere. */
function cubeRoot(n: number): number {
  let x = n;
  for (let i = 0; i < 60; i++) x = (2 * x + n / (x * x)) / 3;
  return x;
}

const rotate = (x: number, by: number): number => (x >>> by) | (x << (32 - by));

/**
 * SHA-256 of bytes, hexadecimal: a name for data, not a secret.
 *
 * @see FIPS 180-4, Secure Hash Standard, sections 4.1.2, 4.2.2, 5.1.1 and 6.2 (from memory; held to its examples by tests).
 */
export function sha256(bytes: Uint8Array): string {
  const k = constants(64, cubeRoot);
  const h = constants(8, Math.sqrt);
  const w = new Int32Array(64);
  const padded = new Uint8Array((((bytes.length + 8) >> 6) << 6) + 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 536870912));
  view.setUint32(padded.length - 4, (bytes.length << 3) >>> 0);
  for (let block = 0; block < padded.length; block += 64) {
    for (let i = 0; i < 64; i++) {
      if (i < 16) w[i] = view.getInt32(block + 4 * i);
      else {
        const x = w[i - 15]!;
        const y = w[i - 2]!;
        const s0 = rotate(x, 7) ^ rotate(x, 18) ^ (x >>> 3);
        const s1 = rotate(y, 17) ^ rotate(y, 19) ^ (y >>> 10);
        w[i] = w[i - 16]! + s0 + w[i - 7]! + s1;
      }
    }
    let [a, b, c, d, e, f, g, last] = h as [number, number, number, number, number, number, number, number];
    for (let i = 0; i < 64; i++) {
      const s1 = rotate(e, 6) ^ rotate(e, 11) ^ rotate(e, 25);
      const first = (last + s1 + ((e & f) ^ (~e & g)) + k[i]! + w[i]!) | 0;
      const s0 = rotate(a, 2) ^ rotate(a, 13) ^ rotate(a, 22);
      const second = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      last = g;
      g = f;
      f = e;
      e = (d + first) | 0;
      d = c;
      c = b;
      b = a;
      a = (first + second) | 0;
    }
    [a, b, c, d, e, f, g, last].forEach((x, i) => (h[i] = (h[i]! + x) | 0));
  }
  return h.map((x) => (x >>> 0).toString(16).padStart(8, '0')).join('');
}
