import { defined } from '../core/index.js';
import { emg, emgAreaBefore, emgFromApex, emgHeight } from '../shapes/index.js';
import { createTrace, type Trace } from '../trace/index.js';
import { addNoise } from './noise.js';
import { checkRecipe, type PeakRecipe, type TraceRecipe } from './recipe.js';

/**
 * A peak as it was put into a simulated record.
 *
 * @public
 */
export interface TruePeak {
  /** Name of the component, when the recipe gave one. */
  readonly name?: string;
  /** Its shape. */
  readonly shape: 'gaussian' | 'emg';
  /** [min] Position of its own apex, apart from every neighbour. */
  readonly retentionTime: number;
  /** [signal unit] Height of its own apex. */
  readonly height: number;
  /** [signal unit s] Whole area. */
  readonly area: number;
  /** [signal unit s] The part of the area between the first and the last sample. */
  readonly areaInRecord: number;
  /** [min] Standard deviation of the Gaussian part. */
  readonly sigma: number;
  /** [min] Time constant of the exponential part; 0 for a Gaussian. */
  readonly tau: number;
}

/**
 * What is true of a simulated record.
 *
 * @public
 */
export interface TraceTruth {
  /** The peaks in order of time. */
  readonly peaks: readonly TruePeak[];
  /** [signal unit] N levels below peaks and bumps, without noise. */
  readonly baseline: Float64Array;
  /** [signal unit] N values of the sum of baseline, peaks and bumps, without noise. */
  readonly clean: Float64Array;
}

/**
 * Makes a record of known truth: peaks on a straight baseline with bumps and
 * noise, sampled evenly from time 0.
 *
 * The same recipe and seed give the same record, every bit the same in every engine.
 *
 * @param recipe - What to make.
 *
 * @returns The record of N = duration / interval + 1 samples, and what is true of it.
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
 *   noise: { white: 0.05 },
 *   seed: 1,
 * });
 * trace.time.length; // => 3001
 * truth.peaks[0].areaInRecord; // => 300
 * ```
 *
 * @public
 */
export function simulateTrace(recipe: TraceRecipe): { readonly trace: Trace; readonly truth: TraceTruth } {
  checkRecipe('simulateTrace', recipe);
  const { interval, signalUnit = 'mAU', seed = 0, step, noise = {}, baseline: { offset = 0, drift = 0 } = {} } = recipe;
  const n = Math.floor((recipe.duration * 60) / interval + 1e-6) + 1;
  const time = Float64Array.from({ length: n }, (_, i) => (i * interval) / 60);
  const baseline = time.map((t) => offset + (drift * t) / 60);
  const clean = baseline.slice();
  for (const bump of recipe.bumps ?? []) addPeak(clean, time, { shape: 'gaussian', retentionTime: bump.time, ...bump });
  const peaks = (recipe.peaks ?? []).map((peak) => addPeak(clean, time, peak));
  peaks.sort((a, b) => a.retentionTime - b.retentionTime);

  let signal = clean.slice();
  addNoise(signal, interval, noise, seed);
  if (step !== undefined) signal = signal.map((y) => Math.round(y / step) * step);
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit, injectedAt: 0 });
  return { trace, truth: { peaks, baseline, clean } };
}

// 15 sigma and 100 time constants of the tail from the mean a peak is below 1e-40 of its height.
const reach = 15;
const decay = 100;

function addPeak(signal: Float64Array, time: Float64Array, peak: PeakRecipe): TruePeak {
  const { name, shape, retentionTime, sigma, tau = 0 } = peak;
  const height = peak.height ?? emgHeight({ area: peak.area! / 60, mean: 0, sigma, tau });
  const curve = emgFromApex({ position: retentionTime, height, sigma, tau });
  const from = curve.mean - reach * sigma + decay * Math.min(tau, 0);
  const to = curve.mean + reach * sigma + decay * Math.max(tau, 0);
  for (let i = 0; i < time.length; i++) {
    const t = time[i]!;
    if (t >= from && t <= to) signal[i]! += emg(t, curve);
  }
  const area = peak.area ?? 60 * curve.area;
  const areaInRecord = 60 * (emgAreaBefore(time.at(-1)!, curve) - emgAreaBefore(time[0]!, curve));
  return defined({ name, shape, retentionTime, height, area, areaInRecord, sigma, tau });
}
