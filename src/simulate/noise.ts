import { exp, sineOfTurns } from '../numeric/index.js';
import type { NoiseRecipe } from './noise-recipe.js';
import { createRandom } from './random.js';

/** Adds to sample i. */
type Add = (i: number, value: number) => void;

/**
 * Adds noise to a signal, and to a record of noise alone, in place: independent normal
 * values; a stationary first-order autoregressive process whose correlation falls by
 * e in one time constant; wander; ripple. Each kind has its own random stream, so
 * changing one leaves the others as they were.
 *
 * @param signal - [signal unit] N values; changed.
 * @param alone - [signal unit] N values; changed.
 * @param interval - [s] Time between two samples.
 * @param noise - The recipe.
 * @param seed - [-] Seed.
 */
export function addNoise(
  signal: Float64Array,
  alone: Float64Array,
  interval: number,
  noise: NoiseRecipe,
  seed: number,
): void {
  const { white = 0, correlated, wander, ripple } = noise;
  const n = signal.length;
  const add: Add = (i, value) => {
    signal[i]! += value;
    alone[i]! += value;
  };
  if (white > 0) {
    const random = createRandom(seed, 1);
    for (let i = 0; i < n; i++) add(i, white * random.normal());
  }
  if (correlated !== undefined && correlated.standardDeviation > 0) {
    addFiltered(n, interval, correlated.standardDeviation, correlated.timeConstant, createRandom(seed, 2).normal, add);
  }
  if (wander !== undefined && wander.standardDeviation > 0) addWander(n, interval, wander, seed, add);
  if (ripple !== undefined && ripple.amplitude > 0) addRipple(n, interval, ripple, seed, add);
}

function addFiltered(n: number, interval: number, sd: number, constant: number, normal: () => number, add: Add): void {
  const kept = exp(-interval / constant);
  const fresh = sd * Math.sqrt(1 - kept * kept);
  let level = sd * normal();
  for (let i = 0; i < n; i++) {
    add(i, level);
    level = kept * level + fresh * normal();
  }
}

/**
 * 1/f as the sum of first-order processes of equal power whose time constants are
 * an octave apart (Bernamont, Proc. Phys. Soc. 49 (1937) 138; from memory).
 */
function addWander(
  n: number,
  interval: number,
  wander: NonNullable<NoiseRecipe['wander']>,
  seed: number,
  add: Add,
): void {
  // prettier-ignore
  const { standardDeviation, shortest, longest } = wander;
  const constants = [];
  for (let t = shortest; t <= longest * (1 + 1e-12); t *= 2) constants.push(t);
  const { normal } = createRandom(seed, 3);
  const each = standardDeviation / Math.sqrt(constants.length);
  for (const constant of constants) addFiltered(n, interval, each, constant, normal, add);
}

function addRipple(
  n: number,
  interval: number,
  ripple: NonNullable<NoiseRecipe['ripple']>,
  seed: number,
  add: Add,
): void {
  // prettier-ignore
  const { amplitude, period, harmonics = [] } = ripple;
  const { uniform } = createRandom(seed, 4);
  [1, ...harmonics].forEach((share, k) => {
    const phase = uniform();
    const turns = ((k + 1) * interval) / period;
    for (let i = 0; i < n; i++) add(i, amplitude * share * sineOfTurns(i * turns + phase));
  });
}
