import type { Interval } from '../baseline/index.js';
import type { Candidate, RejectedCandidate } from './candidate.js';
import type { Extremum } from './extrema.js';
import type { SetApart } from './set-apart.js';

/** What is known about a run before it is looked at. */
export interface Expectations {
  /** Stretches in which dips are peaks. */
  readonly downward: readonly Interval[];
  /** Stretches in which peaks are about so wide. */
  readonly widths: readonly (Interval & {
    /** [min] */
    readonly sigma: number;
  })[];
}

/** [-] Width over the expected one from which and up to which a peak is as expected. */
const narrowest = 0.3;
const broadest = 3;
/** Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;

/** Whether a dip at a place is a peak. */
export function expectsDip(expected: Expectations | undefined, at: number, sign: 1 | -1): boolean {
  return sign < 0 && expected !== undefined && expected.downward.some(({ from, to }) => at >= from && at <= to);
}

/** [min] Standard deviation expected at a place. */
export function expectedSigma(expected: Expectations | undefined, at: number): number | undefined {
  return expected?.widths.find(({ from, to }) => at >= from && at <= to)?.sigma;
}

/** The record of what is far narrower or broader than expected at its place; nothing when it is not, or nothing is expected. */
export function widthTest(
  expected: Expectations | undefined,
  at: number,
  height: number,
  sigma: number,
): RejectedCandidate | undefined {
  const wanted = expectedSigma(expected, at);
  if (wanted === undefined) return undefined;
  const value = sigma / wanted;
  if (value >= narrowest && value <= broadest) return undefined;
  const limit = value < narrowest ? narrowest : broadest;
  const text = `${value.toPrecision(2)} times as wide as is expected there (${narrowest} to ${broadest}).`;
  return { at, height, test: 'expected width', value, limit, text };
}

/**
 * Which extremes are wide enough for their place; one that is not is left to
 * coarser means, where a broader one may stand, and kept in `rejected` once.
 */
export function wideEnough(
  expected: Expectations | undefined,
  rejected: RejectedCandidate[],
): ((e: Extremum) => boolean) | undefined {
  if (expected === undefined || expected.widths.length === 0) return undefined;
  return ({ at, sign, prominence, width, before, after }) => {
    const failed = widthTest(expected, at, sign * prominence, width / halfHeightFactor);
    if (failed === undefined || failed.limit === broadest) return true;
    // Valleys are no peaks, and a broader view of the same is no news.
    const known = rejected.some((r) => r.at >= before && r.at <= after && r.height * sign > 0);
    if (sign > 0 && !known && prominence < Infinity) rejected.push(failed);
    return false;
  };
}

/** Takes as peaks what was set apart for a shape or a place that is expected. */
export function asExpected(
  { candidates, apart }: { readonly candidates: Candidate[]; readonly apart: readonly SetApart[] },
  expected: Expectations | undefined,
): { readonly candidates: Candidate[]; readonly apart: readonly SetApart[] } {
  if (expected === undefined) return { candidates, apart };
  const isPeak = ({ candidate: { apex, direction }, kind }: SetApart): boolean =>
    kind === 'spike'
      ? expectedSigma(expected, apex) !== undefined
      : kind === 'early disturbance' && expectsDip(expected, apex, direction === 'up' ? 1 : -1);
  const taken = apart.filter(isPeak).map(({ candidate }) => candidate);
  return {
    candidates: [...candidates, ...taken].sort((a, b) => a.apex - b.apex),
    apart: apart.filter((each) => !isPeak(each)),
  };
}
