import { checkPositive, resolveOptions } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { checkReadings } from './check-readings.js';
import { noiseOf } from './noise-of.js';
import type { Noise } from './noise.js';
import { peakToPeakOf } from './peak-to-peak.js';

/**
 * Options of {@link estimateNoise}.
 *
 * @public
 */
export interface NoiseOptions {
  /**
   * [min] Length of the windows of the peak-to-peak noise.
   *
   * @defaultValue 0.5
   */
  readonly window?: number | undefined;
  /**
   * [min] Changes slower than one cycle in this time are wander and not
   * counted in the standard deviation.
   *
   * @defaultValue 1
   */
  readonly timeScale?: number | undefined;
}

const defaults = { window: 0.5, timeScale: 1 };

/** Readings needed for one window of curvatures. */
const fewestReadings = 24;

/**
 * Measures the short-term noise of a record: its standard deviation along the
 * run, its correlation from reading to reading, and its range peak to peak.
 * Peaks, drift and spikes in the record do not count; it need not be a blank.
 *
 * **Standard deviation**: of one reading, for changes faster than `timeScale`.
 * White noise and noise whose correlation falls off exponentially (a detector with a
 * time constant) both come out right. On simulated runs of 3000 readings it scatters by 3 % for white noise; by 6 %, and
 * is 4 % too low, when the correlation of neighbours is 0.9; at 0.97 it is 23 % too low. A correlated part that is lost
 * in white noise is left out.
 * It is taken where the record is quiet: peaks over half of it make it 9 % too large, peaks over four fifths up to 35 %.
 * Where the quiet pieces are too short to see the slow part of correlated noise, that is taken to be
 * independent, and `warnings` say so (`noise-extrapolated`): the figure may then be off by a factor of two.
 * Smooth ripple and wander over white noise are left out, as peaks are; up to four standard deviations of amplitude they
 * show in `peakToPeak`.
 *
 * **Quantisation**: when a good part of the readings repeats the one before,
 * the step is given, and the rounding it adds, step / sqrt(12), is taken off the standard
 * deviation, which is that of the detector before rounding. Noise below some
 * four tenths of the step is hidden; then the figure for rounding is given and `warnings` say so (`noise-hidden`).
 *
 * **Peak to peak**: windows side by side, each less its least-squares line; the
 * median and the largest of those whose ranges are alike and no more than 14 standard deviations. The closest pair of
 * parallel lines of the standards named below is never wider than this.
 *
 * On an unevenly sampled record every reading counts the same: the noise is that of one
 * reading, and times follow the real axis.
 *
 * @param trace - The record, N samples; read, never changed.
 * @param options - Length of the windows, time scale; see {@link NoiseOptions}.
 * @returns Every figure in the unit of the signal. `along` has one point for each of 1, 2, 4 or 8 equal parts of
 *   the run, with 400 readings or more in each, and scatters by 5 %; parts full of peaks take what the run has.
 *   Without a quiet window `peakToPeak` is absent and `warnings` say so.
 *
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown` for a wrong option; `trace-too-short` when
 *   the record has fewer than 24 readings.
 *
 * @example
 * ```ts
 * const { trace } = simulateTrace({ duration: 20, interval: 0.2, noise: { white: 0.05 }, seed: 4 });
 * const noise = estimateNoise(trace);
 * Math.round(noise.standardDeviation * 100) / 100; // => 0.05
 * Math.abs(noise.correlation) < 0.1; // => true
 * noise.peakToPeak.windows; // => 40
 * ```
 *
 * @remarks
 * Cost: linear in N. Only `+ - * /` and square roots.
 *
 * @see ASTM E685 and E1657 (from memory): short-term noise is what varies faster than one cycle a minute, taken in
 *   segments of half a minute to a minute.
 * @see W. F. Sheppard, Proc. London Math. Soc. 29 (1898) 353-380 (from memory), for the correction for rounding.
 *
 * @public
 */
export function estimateNoise(trace: Trace, options: NoiseOptions = {}): Noise {
  const caller = 'estimateNoise';
  const { window, timeScale } = resolveOptions(caller, defaults, options);
  checkPositive(caller, 'window', window);
  checkPositive(caller, 'timeScale', timeScale);
  checkReadings(caller, trace, fewestReadings);
  const noise = noiseOf(trace, timeScale);
  const peakToPeak = peakToPeakOf(trace, noise, window);
  if (peakToPeak) return { ...noise, peakToPeak };
  const message = `No window of ${window} min has 10 readings free of peaks: there is no peak-to-peak noise. Try another length.`;
  return { ...noise, warnings: [...(noise.warnings ?? []), { code: 'peak-to-peak-absent', message }] };
}
