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
