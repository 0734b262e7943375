import { failOption, resolveOptions, type Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import { firstAtOrAfter, polylineAt } from '../numeric/index.js';
import type { Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import { normalRange } from './normal-range.js';
import type { SignalToNoise } from './peak-measures.js';

/**
 * Options of {@link measureSignalToNoise}.
 *
 * @public
 */
export interface SignalToNoiseOptions {
  /**
   * [-] Length of the noise window in widths at half height, at least 5.
   *
   * @defaultValue 20
   */
  readonly window?: number;
  /**
   * [-] Fewest samples free of peaks from which noise is taken.
   *
   * @defaultValue 20
   */
  readonly fewestPoints?: number;
}

const defaults: Required<SignalToNoiseOptions> = { window: 20, fewestPoints: 20 };

/** Least time free of peaks in the window, in widths at half height: the shortest window the pharmacopoeias allow. */
const fewestWidths = 5;

/** A stretch of time. */
interface Interval {
  /** [min] Start. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
}

/**
 * Signal-to-noise ratio 2H / h: H the height of the peak above its baseline, h
 * the peak-to-peak noise.
 *
 * h is the range of the samples free of peaks in a window of 20 widths at half
 * height around the retention time, after the straight line that fits them
 * best was taken off. At the ends of the record the window is moved inwards.
 * When less than five widths of it, or fewer than 20 samples, are free of
 * peaks, it is widened until that much is; when the whole record has no more,
 * h is the range to be expected of the noise model over the plain window, and
 * `source` says so.
 *
 * @param trace - The record.
 * @param peak - Retention time and height.
 * @param halfHeightWidth - [min] Width at half height.
 * @param occupied - Stretches to leave out, in order of time and not overlapping: peaks and disturbances.
 * @param noise - The noise model to fall back on.
 * @param options - Length of the window; see {@link SignalToNoiseOptions}.
 * @returns The ratio with window and source; absent, with a warning, when the
 *   noise cannot be seen (h = 0: the signal is quantised more coarsely than its
 *   noise) or cannot be taken.
 * @throws PeakwrightError `option-invalid`, `option-unknown`.
 * @see European Pharmacopoeia 2.2.46 and United States Pharmacopeia general
 *   chapter 621: 2H/h, a window of at least 5 widths. They prefer a blank, and do not speak of
 *   taking off the drift.
 *
 * @public
 */
export function measureSignalToNoise(
  trace: Trace,
  peak: Pick<IntegratedPeak, 'retentionTime' | 'height'>,
  halfHeightWidth: number,
  occupied: readonly Interval[],
  noise?: Noise,
  options: SignalToNoiseOptions = {},
): { readonly signalToNoise?: SignalToNoise; readonly warnings: readonly Warning[] } {
  const caller = 'measureSignalToNoise';
  const { window, fewestPoints } = resolveOptions(caller, defaults, options);
  if (!(window >= fewestWidths && window < Infinity)) failOption(caller, 'window', 'a number of at least 5', window);
  if (!(Number.isInteger(fewestPoints) && fewestPoints >= 3)) {
    failOption(caller, 'fewestPoints', 'an integer of at least 3', fewestPoints);
  }
  const { retentionTime, height } = peak;
  const absent = (why: string): { warnings: Warning[] } => ({
    warnings: [
      {
        code: 'signal-to-noise-absent',
        message: `The peak at ${retentionTime.toFixed(3)} min has no signal-to-noise ratio: ${why}`,
        at: retentionTime,
      },
    ],
  });
  if (!(halfHeightWidth > 0)) return absent('it has no width at half height to scale the window by.');
  const { time, signal } = trace;
  const free = findFree(time, retentionTime, halfHeightWidth, window, occupied, fewestPoints);
  if (free !== undefined) {
    const h = rangeAboutLine(time, signal, free.ranges, free.points);
    if (!(h > 1e-12 * Math.abs(height))) {
      return absent('the samples around it do not differ, so that their noise is hidden by the step of the readings.');
    }
    const value = (2 * Math.abs(height)) / h;
    const { from, to, points } = free;
    return {
      signalToNoise: { value, definition: '2H/h', noise: h, from, to, points, source: 'this run' },
      warnings: [],
    };
  }
  const deviation =
    noise === undefined
      ? undefined
      : noise.along.time.length > 0
        ? polylineAt(noise.along, retentionTime)
        : noise.standardDeviation;
  if (deviation === undefined || !(deviation > 0))
    return absent('no stretch free of peaks is long enough to take noise from.');
  const from = retentionTime - (window * halfHeightWidth) / 2;
  const to = retentionTime + (window * halfHeightWidth) / 2;
  const points = Math.max(2, firstAtOrAfter(time, to) - firstAtOrAfter(time, from));
  const h = deviation * normalRange(points);
  const value = (2 * Math.abs(height)) / h;
  return {
    signalToNoise: { value, definition: '2H/h', noise: h, from, to, points, source: 'noise model' },
    warnings: [],
  };
}

/** The free samples of a window, as pairs of first index and index after the last. */
interface Free {
  readonly from: number;
  readonly to: number;
  readonly ranges: readonly number[];
  readonly points: number;
}

/** The shortest window of at least `window` widths with enough time and samples free of peaks. */
function findFree(
  time: Float64Array,
  centre: number,
  width: number,
  window: number,
  occupied: readonly Interval[],
  fewestPoints: number,
): Free | undefined {
  const begin = time[0]!;
  const record = time[time.length - 1]! - begin;
  const look = (length: number): Free | undefined => {
    const from = Math.max(begin, Math.min(centre - length / 2, begin + record - length));
    const to = Math.min(begin + record, from + length);
    return takeFree(time, from, to, occupied, fewestWidths * width, fewestPoints);
  };
  let short = Math.min(window * width, record);
  let result = look(short);
  if (result !== undefined) return result;
  let long = short;
  while (result === undefined) {
    if (long >= record) return undefined;
    short = long;
    long = Math.min(long * 2, record);
    result = look(long);
  }
  // The nearest free samples are the best: as little wider as does it.
  while (long - short > width) {
    const middle = (long + short) / 2;
    const found = look(middle);
    if (found === undefined) {
      short = middle;
    } else {
      long = middle;
      result = found;
    }
  }
  return result;
}

/** Free samples between two times, or nothing when there are too few. */
function takeFree(
  time: Float64Array,
  from: number,
  to: number,
  occupied: readonly Interval[],
  fewestTime: number,
  fewestPoints: number,
): Free | undefined {
  let low = 0;
  let high = occupied.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (occupied[middle]!.end <= from) low = middle + 1;
    else high = middle;
  }
  const ranges: number[] = [];
  let points = 0;
  let span = 0;
  let cursor = from;
  for (let k = low; cursor < to; k++) {
    const next = k < occupied.length ? occupied[k]! : undefined;
    const stop = next === undefined ? to : Math.min(to, next.start);
    if (stop > cursor) {
      const first = firstAtOrAfter(time, cursor);
      // The last sample of the window belongs to it; one at the start of a peak does as well.
      let after = firstAtOrAfter(time, stop);
      if (time[after] === stop) after++;
      if (after > first) {
        ranges.push(first, after);
        points += after - first;
        span += stop - cursor;
      }
    }
    if (next === undefined) break;
    cursor = Math.max(cursor, next.end);
  }
  return points >= fewestPoints && span >= fewestTime ? { from, to, ranges, points } : undefined;
}

/** Range of the samples about the least-squares straight line through them. */
function rangeAboutLine(time: Float64Array, signal: Float64Array, ranges: readonly number[], n: number): number {
  const origin = time[ranges[0]!]!;
  const level = signal[ranges[0]!]!;
  let st = 0;
  let sy = 0;
  let stt = 0;
  let sty = 0;
  for (let r = 0; r < ranges.length; r += 2) {
    for (let i = ranges[r]!; i < ranges[r + 1]!; i++) {
      const t = time[i]! - origin;
      const y = signal[i]! - level;
      st += t;
      sy += y;
      stt += t * t;
      sty += t * y;
    }
  }
  const spread = stt - (st * st) / n;
  const slope = spread > 0 ? (sty - (st * sy) / n) / spread : 0;
  let lowest = Infinity;
  let highest = -Infinity;
  for (let r = 0; r < ranges.length; r += 2) {
    for (let i = ranges[r]!; i < ranges[r + 1]!; i++) {
      const y = signal[i]! - level - slope * (time[i]! - origin);
      if (y < lowest) lowest = y;
      if (y > highest) highest = y;
    }
  }
  return highest - lowest;
}
