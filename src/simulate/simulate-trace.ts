import { failOption } from '../core/index.js';
import { createTrace, type Trace } from '../trace/index.js';
import { baselineLevel } from './baseline-level.js';
import { checkRecipe } from './check-recipe.js';
import { addSignal, bumpSignal, disturbanceSignal } from './disturbance-signal.js';
import { addNoise } from './noise.js';
import { peakCurve } from './peak-curve.js';
import type { TraceRecipe } from './recipe.js';
import { sampleTimes } from './sample-times.js';
import { truePeaks } from './true-peaks.js';
import type { TraceTruth } from './truth.js';

/**
 * Makes a record of known truth: peaks of several shapes on a baseline with ramps
 * and humps, disturbances, noise, and what a detector and its clock do to it.
 *
 * In this order: baseline, bumps, peaks, disturbances; noise; the ceiling (before
 * the noise when the recipe says that the noise comes after it); rounding to the
 * step. The same recipe and seed give the same record, every bit the same in every
 * engine; the noise of a sample depends on seed and interval alone, so that what
 * is added, moved or left out elsewhere changes nothing about it.
 *
 * @param recipe - What to make.
 *
 * @returns The record of N = duration / interval + 1 samples, less those in gaps and slower stretches, and what is
 *   true of it.
 *
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown`, naming the field, when the recipe cannot
 *   be followed.
 *
 * @example
 * ```ts
 * const { trace, truth } = simulateTrace({
 *   duration: 10,
 *   interval: 0.2,
 *   peaks: [{ shape: 'emg', retentionTime: 5, area: 300, sigma: 0.05, tau: 0.03 }],
 *   disturbances: [{ kind: 'void', time: 1, height: -4, sigma: 0.02, second: { delay: 0.06, height: 3, sigma: 0.02 } }],
 *   noise: { white: 0.05 },
 *   seed: 1,
 * });
 * trace.time.length; // => 3001
 * truth.peaks[0].areaInRecord; // => 300
 * truth.peaks[0].isIsolated; // => true
 * ```
 *
 * @public
 */
export function simulateTrace(recipe: TraceRecipe): { readonly trace: Trace; readonly truth: TraceTruth } {
  checkRecipe('simulateTrace', recipe);
  const { interval, signalUnit = 'mAU', bumps = [], disturbances: others = [] } = recipe;
  const { time: all, kept } = sampleTimes(recipe);
  const only = (values: Float64Array): Float64Array => (kept ? Float64Array.from(kept, (i) => values[i]!) : values);
  const time = only(all);
  if (time.length < 2) failEmpty(recipe);

  const level = baselineLevel(all, recipe.baseline ?? {});
  const sum = level.slice();
  const curves = (recipe.peaks ?? []).map(peakCurve);
  const disturbances = [...bumps.map(bumpSignal), ...others.map((other) => disturbanceSignal(other, time, interval))];
  for (const bump of disturbances.slice(0, bumps.length)) addSignal(sum, all, bump);
  for (const curve of curves) addSignal(sum, all, curve);
  for (const other of disturbances.slice(bumps.length)) addSignal(sum, all, other);

  const alone = new Float64Array(all.length);
  const signal = only(readings(sum, alone, recipe));
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit, injectedAt: 0 });
  const clean = only(sum);
  const noise = only(alone);
  const made = {
    time,
    clean,
    noise,
    disturbances,
    ceiling: recipe.saturation?.level ?? Infinity,
    step: recipe.step ?? 0,
  };
  const truth: TraceTruth = {
    peaks: truePeaks(recipe.peaks ?? [], curves, made),
    disturbances: disturbances.map((d) => d.truth).sort((a, b) => a.time - b.time),
    baseline: only(level),
    clean,
    noise,
  };
  return { trace, truth };
}

/** What the detector reads of a clean signal; the noise is also written to `alone`. */
function readings(clean: Float64Array, alone: Float64Array, recipe: TraceRecipe): Float64Array {
  const { interval, seed = 0, step, saturation, noise = {} } = recipe;
  const ceiling = saturation?.level ?? Infinity;
  const isAfter = saturation?.noise === 'after';
  let signal = isAfter ? clean.map((y) => Math.min(y, ceiling)) : clean.slice();
  addNoise(signal, alone, interval, noise, seed);
  if (saturation !== undefined && !isAfter) signal = signal.map((y) => Math.min(y, ceiling));
  return step === undefined ? signal : signal.map((y) => Math.round(y / step) * step);
}

/** A recipe that keeps no two samples. */
function failEmpty(recipe: TraceRecipe): never {
  failOption('simulateTrace', 'sampling.gaps', 'gaps that leave two samples or more', recipe.sampling?.gaps);
}
