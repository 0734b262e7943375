import type { Baseline } from '../baseline/index.js';
import type { Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import { createStretch, fillStretch, locateApex, type Stretch } from '../numeric/index.js';
import type { PeakWidths } from './peak-measures.js';
import type { Trace } from '../trace/index.js';

/**
 * The valley between two peaks.
 *
 * @public
 */
export interface PeakToValley {
  /** [-] Height of the smaller peak over the height of the valley. */
  readonly value?: number;
  /** [min] Where the valley lies. */
  readonly at?: number;
  /** [signal unit] Height of the valley above the baseline, with the sign of the peaks. */
  readonly valleyHeight?: number;
  /** Why the ratio is absent. */
  readonly warnings: readonly Warning[];
}

/** What the ratio needs to know of a peak. */
type ValleyPeak = Pick<IntegratedPeak, 'retentionTime' | 'height' | 'direction'> & { readonly widths?: PeakWidths };

/**
 * Peak-to-valley ratio Hp / Hv of two neighbouring peaks: the height of the
 * smaller one over the height of the lowest point between them, both above the
 * same baseline.
 *
 * The valley is the minimum of a local fit over 0.4 standard deviations of the
 * narrower peak on either side (a twelfth of the distance when no width is
 * known), so that noise does not lower it.
 *
 * @param trace - The record.
 * @param before - The earlier peak.
 * @param after - The later peak.
 * @param baseline - The baseline both stand on.
 * @param work - Space to reuse.
 * @returns The ratio with the place and height of the valley. The ratio is
 *   absent when the peaks point different ways, when there is no valley, and
 *   when the valley reaches the baseline, because then nothing limits it.
 * @see European Pharmacopoeia 2.2.46; from memory.
 *
 * @public
 */
export function peakToValley(
  trace: Trace,
  before: ValleyPeak,
  after: ValleyPeak,
  baseline: Baseline,
  work: Stretch = createStretch(),
): PeakToValley {
  const absent = (message: string, rest: { at?: number; valleyHeight?: number } = {}): PeakToValley => ({
    ...rest,
    warnings: [{ code: 'peak-to-valley-absent', message, at: rest.at ?? after.retentionTime }],
  });
  const place = `between ${before.retentionTime.toFixed(3)} and ${after.retentionTime.toFixed(3)} min`;
  if (before.direction !== after.direction)
    return absent(`The peaks ${place} point different ways: there is no valley to compare them with.`);
  const sign = before.direction === 'up' ? 1 : -1;
  const start = before.retentionTime;
  const end = after.retentionTime;
  const lowest = lowestBetween(trace, start, end, baseline, sign, work);
  if (lowest === undefined) return absent(`There is no valley ${place}.`);
  const valley = locateApex(
    trace.time,
    trace.signal,
    { approx: lowest, start, end, sign: sign === 1 ? -1 : 1, base: baseline, sigma: valleySigma(before, after) },
    work,
  );
  if (valley.method === 'as given') return absent(`There is no valley ${place}.`);
  const found = { at: valley.time, valleyHeight: valley.height };
  const valleyHeight = sign * valley.height;
  if (!(valleyHeight > 0))
    return absent(`The valley ${place} reaches the baseline: the peak-to-valley ratio has no limit there.`, found);
  const minor = Math.min(sign * before.height, sign * after.height);
  const value = minor / valleyHeight;
  if (!(value > 0) || !Number.isFinite(value))
    return absent(`One of the peaks ${place} has no height above the baseline.`, found);
  return { ...found, value, warnings: [] };
}

/** Scale of the fit, half the standard deviation of the narrower peak: the valley bends more sharply than an apex. */
function valleySigma(before: ValleyPeak, after: ValleyPeak): number {
  const distance = after.retentionTime - before.retentionTime;
  const width = Math.min(before.widths?.halfHeight ?? Infinity, after.widths?.halfHeight ?? Infinity);
  return Math.min(distance / 10, width / 4.709640090061899);
}

/** Time of the lowest sample strictly between two times; in long stretches of the lowest block. */
function lowestBetween(
  trace: Trace,
  start: number,
  end: number,
  baseline: Baseline,
  sign: 1 | -1,
  work: Stretch,
): number | undefined {
  fillStretch(work, trace.time, trace.signal, baseline, start, end, sign, 512);
  let lowest = -1;
  for (let i = 1; i < work.length - 1; i++) {
    if (lowest < 0 || work.value[i]! < work.value[lowest]!) lowest = i;
  }
  return lowest < 0 ? undefined : work.time[lowest]!;
}
