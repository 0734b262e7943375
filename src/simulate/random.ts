import { log } from '../numeric/index.js';

/** A stream of random numbers; each call takes the next one. */
export interface Random {
  /** [-] A whole number, each of 0 ... 2^32 - 1 equally likely. */
  readonly whole: () => number;
  /** [-] A number from 0 (included) to 1 (excluded), 53 random bits. */
  readonly uniform: () => number;
  /** [-] A normal value of mean 0 and standard deviation 1. */
  readonly normal: () => number;
}

/**
 * A seeded generator whose numbers are the same in every engine: 32-bit integer
 * arithmetic, and a logarithm made of `+ - * /`.
 *
 * The generator is xoshiro128** 1.1 (Blackman and Vigna, Scrambled linear
 * pseudorandom number generators, ACM Trans. Math. Softw. 47 (2021) 36), its state
 * four consecutive outputs of a counter in steps of 0x9e3779b9 through the 32-bit
 * finaliser of MurmurHash3 (Appleby), started at seed + stream · 0x632be5ab.
 * Normal values by the polar method of Marsaglia and Bray (SIAM Review 6 (1964)
 * 260-264). References from memory.
 *
 * @param seed - [-] A whole number from 0 to 2^32 - 1.
 * @param stream - [-] Number of the stream: streams of one seed are independent for practical purposes.
 */
export function createRandom(seed: number, stream = 0): Random {
  let counter = (seed + Math.imul(stream, 0x632be5ab)) | 0;
  const scramble = (): number => {
    counter = (counter + 0x9e3779b9) | 0;
    let h = counter;
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    return h ^ (h >>> 16);
  };
  let s0 = scramble();
  let s1 = scramble();
  let s2 = scramble();
  let s3 = scramble(); // four different counters: never all zero, the finaliser is one to one

  const whole = (): number => {
    const product = Math.imul(s1, 5);
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
    const t = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = (s3 << 11) | (s3 >>> 21);
    return result;
  };
  const uniform = (): number => {
    const high = whole() >>> 5;
    return (high * 67108864 + (whole() >>> 6)) / 9007199254740992;
  };
  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    for (;;) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * log(s)) / s);
        spare = v * factor;
        return u * factor;
      }
    }
  };
  return { whole, uniform, normal };
}
