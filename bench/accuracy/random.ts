/** A seeded source of numbers: xoshiro128** (Blackman and Vigna 2018), filled by splitmix32. */
export interface Random {
  /** Uniform in [low, high). */
  uniform(low: number, high: number): number;
  /** Uniform in the logarithm; both ends positive. */
  logUniform(low: number, high: number): number;
  /** Whole number from low to high, both included. */
  whole(low: number, high: number): number;
  /** True with the given probability. */
  chance(probability: number): boolean;
  /** One of the given values. */
  pick<T>(values: readonly T[]): T;
  /** Standard normal deviate (polar method). */
  normal(): number;
}

/** The same seed and salt give the same numbers on every machine. */
export function createRandom(seed: number, salt = ''): Random {
  let state = seed >>> 0;
  for (let i = 0; i < salt.length; i++) state = Math.imul(state ^ salt.charCodeAt(i), 0x01000193) >>> 0;
  const split = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  };
  let s0 = split();
  let s1 = split();
  let s2 = split();
  let s3 = split();
  const rotate = (x: number, k: number): number => (x << k) | (x >>> (32 - k));
  const next32 = (): number => {
    const result = Math.imul(rotate(Math.imul(s1, 5), 7), 9) >>> 0;
    const t = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = rotate(s3, 11);
    return result;
  };
  const unit = (): number => ((next32() >>> 5) * 67108864 + (next32() >>> 6)) / 9007199254740992;
  let spare: number | undefined;
  const random: Random = {
    uniform: (low, high) => low + (high - low) * unit(),
    logUniform: (low, high) => low * Math.pow(high / low, unit()),
    whole: (low, high) => low + Math.floor((high - low + 1) * unit()),
    chance: (probability) => unit() < probability,
    pick: (values) => values[Math.floor(values.length * unit())]!,
    normal: () => {
      if (spare !== undefined) {
        const value = spare;
        spare = undefined;
        return value;
      }
      for (;;) {
        const u = 2 * unit() - 1;
        const v = 2 * unit() - 1;
        const s = u * u + v * v;
        if (s > 0 && s < 1) {
          const factor = Math.sqrt((-2 * Math.log(s)) / s);
          spare = v * factor;
          return u * factor;
        }
      }
    },
  };
  return random;
}
