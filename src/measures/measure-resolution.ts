import { defined } from '../core/index.js';
import { resolutionHalfHeight, resolutionTangent } from './formulas.js';
import type { PeakResolution, PeakWidths } from './peak-measures.js';

/** What resolution needs to know of a peak. */
export interface ResolvedPeak {
  /** Its `id`. */
  readonly id: string;
  /** [min] Its retention time. */
  readonly retentionTime: number;
  /** Its widths. */
  readonly widths: PeakWidths;
}

/**
 * Resolution between two peaks, by both definitions. On real, tailing peaks the
 * two differ, by a third or more; compare like with like.
 *
 * @param before - The earlier peak.
 * @param after - The later peak.
 * @returns The resolution, with the definitions absent whose widths are absent.
 * @see {@link resolutionHalfHeight} and {@link resolutionTangent} for the formulas and their sources.
 *
 * @public
 */
export function measureResolution(before: ResolvedPeak, after: ResolvedPeak): PeakResolution {
  const { retentionTime: from, widths: a } = before;
  const { retentionTime: to, widths: b } = after;
  return defined({
    against: before.id,
    halfHeight: a.halfHeight && b.halfHeight && resolutionHalfHeight(from, to, a.halfHeight, b.halfHeight),
    tangent: a.tangent && b.tangent && resolutionTangent(from, to, a.tangent, b.tangent),
  });
}
