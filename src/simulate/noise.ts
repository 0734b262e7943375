import { exp } from '../numeric/index.js';
import type { NoiseRecipe } from './recipe.js';
import { createRandom } from './random.js';

/**
 * Adds noise to a signal in place: independent normal values, and a stationary
 * first-order autoregressive process whose correlation falls by e in one time
 * constant. Each kind has its own random stream, so changing one leaves the
 * other as it was.
 *
 * @param signal - [signal unit] N values; changed.
 * @param interval - [s] Time between two samples.
 * @param noise - The recipe.
 * @param seed - [-] Seed.
 */
export function addNoise(signal: Float64Array, interval: number, noise: NoiseRecipe, seed: number): void {
  const { white = 0, correlated } = noise;
  if (white > 0) {
    const random = createRandom(seed, 1);
    for (let i = 0; i < signal.length; i++) signal[i]! += white * random.normal();
  }
  if (correlated !== undefined && correlated.standardDeviation > 0) {
    const random = createRandom(seed, 2);
    const kept = exp(-interval / correlated.timeConstant);
    const fresh = correlated.standardDeviation * Math.sqrt(1 - kept * kept);
    let level = correlated.standardDeviation * random.normal();
    for (let i = 0; i < signal.length; i++) {
      signal[i]! += level;
      level = kept * level + fresh * random.normal();
    }
  }
}
