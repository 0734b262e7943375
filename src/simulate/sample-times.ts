import { firstAtOrAfter } from '../numeric/index.js';
import { createRandom } from './random.js';
import type { TraceRecipe } from './recipe.js';

/** Every reading of the plain clock, when it was really taken, and whether it is in the record. */
export interface SampleTimes {
  /** [min] N times. */
  readonly time: Float64Array;
  /** Which of the N are in the record; nothing when all are. */
  readonly kept?: Int32Array;
}

/** The readings of a recipe. Noise is made for all N, so that what is left out changes no other reading. */
export function sampleTimes({ start = 0, duration, interval, sampling = {}, seed = 0 }: TraceRecipe): SampleTimes {
  const n = Math.floor((duration * 60) / interval + 1e-6) + 1;
  const time = Float64Array.from({ length: n }, (_, i) => start + (i * interval) / 60);
  const { jitter = 0, gaps = [], slower = [] } = sampling;
  if (jitter > 0) {
    const { uniform } = createRandom(seed, 5);
    for (let i = 0; i < n; i++) time[i]! += ((2 * uniform() - 1) * jitter * interval) / 60;
  }
  if (gaps.length === 0 && slower.length === 0) return { time };
  const stays = new Uint8Array(n).fill(1);
  for (const { from, to, factor } of slower) {
    const first = firstAtOrAfter(time, from);
    for (let i = first; i < n && time[i]! < to; i++) if ((i - first) % factor !== 0) stays[i] = 0;
  }
  for (const { from, to } of gaps) {
    for (let i = firstAtOrAfter(time, from); i < n && time[i]! < to; i++) if (time[i]! > from) stays[i] = 0;
  }
  return { time, kept: Int32Array.from(stays.keys()).filter((i) => stays[i] === 1) };
}
