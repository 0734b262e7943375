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
  const a = before.widths;
  const b = after.widths;
  const { retentionTime: t1 } = before;
  const { retentionTime: t2 } = after;
  return {
    against: before.id,
    ...(a.halfHeight === undefined || b.halfHeight === undefined
      ? {}
      : { halfHeight: resolutionHalfHeight(t1, t2, a.halfHeight, b.halfHeight) }),
    ...(a.tangent === undefined || b.tangent === undefined
      ? {}
      : { tangent: resolutionTangent(t1, t2, a.tangent, b.tangent) }),
  };
}
