import type { Baseline } from '../baseline/index.js';
import type { Warning } from '../core/index.js';
import { findValley, type IntegratedPeak } from '../integration/index.js';
import { halfWidthOfSigma } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { PeakWidths } from './peak-measures.js';

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
 * @returns The ratio with the place and height of the valley. The ratio is
 *   absent when the peaks point different ways, when there is no valley, and
 *   when the valley reaches the baseline, because then nothing limits it.
 * @see European Pharmacopoeia 2.2.46; from memory.
 *
 * @public
 */
export function peakToValley(
  trace: Trace,
  before: Pick<IntegratedPeak, 'retentionTime' | 'height' | 'direction'> & { readonly widths?: PeakWidths },
  after: Pick<IntegratedPeak, 'retentionTime' | 'height' | 'direction'> & { readonly widths?: PeakWidths },
  baseline: Baseline,
): PeakToValley {
  const { retentionTime: start, direction } = before;
  const end = after.retentionTime;
  const absent = (why: string, found: { at?: number; valleyHeight?: number } = {}): PeakToValley => {
    const message = `The peak-to-valley ratio between ${start.toFixed(3)} and ${end.toFixed(3)} min is absent: ${why}.`;
    return { ...found, warnings: [{ code: 'peak-to-valley-absent', message, at: found.at ?? end }] };
  };
  if (direction !== after.direction) return absent('the peaks point different ways');
  const sign = direction === 'up' ? 1 : -1;
  const width = Math.min(before.widths?.halfHeight ?? Infinity, after.widths?.halfHeight ?? Infinity);
  const sigma = Math.min((end - start) / 5, width / (2 * halfWidthOfSigma));
  const { at, height, isMinimum } = findValley(trace, baseline, start, end, sigma, sign, true);
  if (!isMinimum) return absent('the signal has no valley there');
  const found = { at, valleyHeight: sign * height };
  const value = Math.min(sign * before.height, sign * after.height) / height;
  if (!(height > 0 && value > 0 && Number.isFinite(value))) {
    return absent('the valley reaches the baseline, or a peak has no height above it', found);
  }
  return { ...found, value, warnings: [] };
}
