import type { Trace } from '../trace/index.js';
import type { Bump } from './bumps.js';
import type { Candidate } from './candidate.js';

/** [sigma] How far beyond its arrival at the baseline a peak is followed, so that what is under the noise counts too. */
const marginBefore = 0.7;
const marginAfter = 0.9;

/** The public form of a bump: its reach, a little beyond where it meets the baseline. */
export function asCandidate(bump: Bump, trace: Trace): Candidate {
  const { sigma, sign, at, height, from, to, fromBaseline, toBaseline, extremum } = bump;
  const first = trace.time[0]!;
  const last = trace.time[trace.time.length - 1]!;
  const kind = (t: number, baseline: boolean) =>
    baseline ? 'baseline' : t <= first + sigma * 0.2 || t >= last - sigma * 0.2 ? 'cut off' : 'neighbour';
  return {
    apex: at,
    sigma,
    height: sign * height,
    significance: extremum.significance,
    direction: sign > 0 ? 'up' : 'down',
    from: Math.max(first, from - (fromBaseline ? marginBefore * sigma : 0)),
    to: Math.min(last, to + (toBaseline ? marginAfter * sigma : 0)),
    fromKind: kind(from, fromBaseline),
    toKind: kind(to, toBaseline),
  };
}

/** [sigma] Reach of a peak on a side where it neither meets the baseline nor a neighbour. */
const longestReach = 5;

/**
 * Shortens the reach of candidates that were stopped by the turn of the signal
 * where no neighbour is: something far off, which the peak has no part in.
 */
export function withoutFarReach(candidates: readonly Candidate[]): Candidate[] {
  return candidates.map((c, i) => {
    let { from, to, fromKind, toKind } = c;
    const before = candidates[i - 1];
    const after = candidates[i + 1];
    if (fromKind === 'neighbour' && !(before && before.to > from - before.sigma)) {
      from = Math.max(from, c.apex - longestReach * c.sigma);
      fromKind = 'baseline';
    }
    if (toKind === 'neighbour' && !(after && after.from < to + after.sigma)) {
      to = Math.min(to, c.apex + longestReach * c.sigma);
      toKind = 'baseline';
    }
    return { ...c, from, to, fromKind, toKind };
  });
}
