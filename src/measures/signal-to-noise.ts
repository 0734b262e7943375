import { checkNumber, checkWhole, resolveOptions, type Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import { firstAtOrAfter, joinStretches, polylineAt, rangeAboutLine, type JoinedStretches } from '../numeric/index.js';
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
 * @param occupied - Stretches to leave out: peaks and disturbances, in any order.
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
  occupied: readonly Pick<IntegratedPeak, 'start' | 'end'>[],
  noise?: Noise,
  options: SignalToNoiseOptions = {},
): { readonly signalToNoise?: SignalToNoise; readonly warnings: readonly Warning[] } {
  const caller = 'measureSignalToNoise';
  const { window, fewestPoints } = resolveOptions(caller, defaults, options);
  checkNumber(caller, 'window', window, 'a number of at least 5', (v) => v >= fewestWidths);
  checkWhole(caller, 'fewestPoints', fewestPoints, 3);
  const busy = joinStretches(occupied.map(({ start, end }) => ({ from: start, to: end })));
  return signalToNoiseBetween(trace, peak, halfHeightWidth, busy, noise, window, fewestPoints);
}

/** The work of {@link measureSignalToNoise}, for stretches joined once for all peaks of a run. */
export function signalToNoiseBetween(
  trace: Trace,
  peak: Pick<IntegratedPeak, 'retentionTime' | 'height'>,
  halfHeightWidth: number,
  occupied: JoinedStretches,
  noise: Noise | undefined,
  window: number,
  fewestPoints: number = defaults.fewestPoints,
): ReturnType<typeof measureSignalToNoise> {
  const at = peak.retentionTime;
  const height = Math.abs(peak.height);
  const absent = (why: string): { warnings: Warning[] } => {
    const message = `The peak at ${at.toFixed(3)} min has no signal-to-noise ratio: ${why}.`;
    return { warnings: [{ code: 'signal-to-noise-absent', message, at }] };
  };
  const present = (h: number, from: number, to: number, points: number, source: SignalToNoise['source']) => ({
    signalToNoise: { value: (2 * height) / h, definition: '2H/h', noise: h, from, to, points, source } as const,
    warnings: [],
  });
  if (!(halfHeightWidth > 0)) return absent('it has no width at half height to scale the window by');
  const { time, signal } = trace;
  const free = findFree(time, at, halfHeightWidth, window, occupied, fewestPoints);
  if (free) {
    const h = rangeAboutLine(time, signal, free.ranges);
    return h > 1e-12 * height
      ? present(h, free.from, free.to, free.points, 'this run')
      : absent('the samples around it do not differ, so that their noise is hidden by the step of the readings');
  }
  const deviation = noise ? polylineAt(noise.along, at) : 0;
  if (!(deviation > 0)) return absent('no stretch free of peaks is long enough to take noise from');
  const from = at - (window * halfHeightWidth) / 2;
  const to = at + (window * halfHeightWidth) / 2;
  const points = Math.max(2, firstAtOrAfter(time, to) - firstAtOrAfter(time, from));
  return present(deviation * normalRange(points), from, to, points, 'noise model');
}

/** The free samples of a window. */
interface Free {
  readonly from: number;
  readonly to: number;
  /** First index of each free stretch, and index after its last. */
  readonly ranges: readonly (readonly [number, number])[];
  readonly points: number;
}

/** The shortest window of at least `window` widths with enough time and samples free of peaks. */
function findFree(
  time: Float64Array,
  centre: number,
  width: number,
  window: number,
  occupied: JoinedStretches,
  fewestPoints: number,
): Free | undefined {
  const begin = time[0]!;
  const end = time[time.length - 1]!;
  const look = (length: number): Free | undefined => {
    const from = Math.max(begin, Math.min(centre - length / 2, end - length));
    const to = Math.min(end, from + length);
    return takeFree(time, from, to, occupied, fewestWidths * width, fewestPoints);
  };
  let short = Math.min(window * width, end - begin);
  let long = end - begin;
  let free = look(short);
  if (free) return free;
  free = look(long);
  // The nearest free samples are the best: as little wider as does it.
  while (free && long - short > width) {
    const middle = (long + short) / 2;
    const less = look(middle);
    if (less) {
      long = middle;
      free = less;
    } else {
      short = middle;
    }
  }
  return free;
}

/** Free samples between two times, or nothing when there are too few. */
function takeFree(
  time: Float64Array,
  from: number,
  to: number,
  occupied: JoinedStretches,
  fewestTime: number,
  fewestPoints: number,
): Free | undefined {
  const ranges: [number, number][] = [];
  let points = 0;
  let span = 0;
  let cursor = from;
  for (let k = firstAtOrAfter(occupied.to, from); cursor < to; k++) {
    const stop = Math.min(to, occupied.from[k] ?? to);
    if (stop > cursor) {
      const first = firstAtOrAfter(time, cursor);
      let after = firstAtOrAfter(time, stop);
      // The last sample of the window belongs to it; one at the start of a peak does as well.
      if (time[after] === stop) after++;
      if (after > first) {
        ranges.push([first, after]);
        points += after - first;
        span += stop - cursor;
      }
    }
    cursor = Math.max(cursor, occupied.to[k] ?? to);
  }
  return points >= fewestPoints && span >= fewestTime ? { from, to, ranges, points } : undefined;
}
