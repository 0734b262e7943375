import type { Analysis, Peak } from '../analysis/index.js';
import { firstAtOrAfter, halfWidthOfSigma } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { PeakCurve } from './peak-curve.js';
import type { SinglePeak } from './single-peak.js';

/** A peak to add, with what it measures alone. */
export interface AddedPeak {
  readonly curve: PeakCurve;
  readonly single: SinglePeak;
}

/** The record with peaks added, all moved by `shift` [min] and each `scales` times as large. */
export function withPeaks(blank: Trace, added: readonly AddedPeak[], shift: number, scales: readonly number[]): Trace {
  const { time } = blank;
  const signal = blank.signal.slice();
  added.forEach(({ curve: { from, to, value } }, k) => {
    for (let i = firstAtOrAfter(time, from + shift); i < time.length && time[i]! <= to + shift; i++) {
      signal[i]! += scales[k]! * value(time[i]! - shift);
    }
  });
  return { ...blank, signal };
}

/**
 * The found peak of each added one, if any: same sign, apex within half a Gaussian
 * sigma (half width / 2.355) or two samples, nearest first, one to one.
 */
export function findAdded(
  { trace: { time }, peaks }: Analysis,
  added: readonly AddedPeak[],
  shift: number,
): (Peak | undefined)[] {
  // prettier-ignore
  const pairs = added.flatMap(({ curve, single }, k) => {
    const at = curve.position + shift;
    const i = Math.min(Math.max(firstAtOrAfter(time, at), 1), time.length - 1);
    const reach = Math.max(single.widths.halfHeight / (4 * halfWidthOfSigma), 2 * (time[i]! - time[i - 1]!));
    return peaks
      .map((peak) => ({ k, peak, distance: Math.abs(peak.retentionTime - at) }))
      .filter(({ peak, distance }) => distance <= reach && peak.height > 0 === curve.height > 0);
  });
  pairs.sort((a, b) => a.distance - b.distance);
  const found: (Peak | undefined)[] = added.map(() => undefined);
  for (const { k, peak } of pairs) if (found[k] === undefined && !found.includes(peak)) found[k] = peak;
  return found;
}
