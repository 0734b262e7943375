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
/** [-] Prominence times width of a broad extreme over that of the narrow ones it holds. */
const farLarger = 2;
/** Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;

/** Whether a dip at a place is a peak. */
export function expectsDip(expected: Expectations | undefined, at: number, sign: 1 | -1): boolean {
  return sign < 0 && expected?.downward.some(({ from, to }) => at >= from && at <= to) === true;
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
 * Which extremes are wide enough for their place. One that is not is left to
 * coarser means, where a broader one may stand that it is a ripple on, and kept in
 * `rejected`. Means only spread what is narrow: a broader one counts when it is far larger.
 */
export function wideEnough(
  expected: Expectations | undefined,
  rejected: RejectedCandidate[],
): ((e: Extremum) => boolean) | undefined {
  if (expected === undefined || expected.widths.length === 0) return undefined;
  const narrow: Extremum[] = [];
  return (e) => {
    const { at, sign, prominence, width, before, after } = e;
    const wanted = expectedSigma(expected, at);
    if (wanted === undefined) return true;
    const inside = narrow.filter((other) => other.sign === sign && other.at >= before && other.at <= after);
    if (width >= narrowest * halfHeightFactor * wanted) {
      return prominence * width >= farLarger * inside.reduce((sum, o) => sum + o.prominence * o.width, 0);
    }
    if (inside.length > 0) return false;
    narrow.push(e);
    // Of those that point down most are the valleys between ripples.
    const failed = sign > 0 ? widthTest(expected, at, prominence, width / halfHeightFactor) : undefined;
    if (failed !== undefined) rejected.push(failed);
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
