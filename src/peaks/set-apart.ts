import type { Edge } from '../signal/index.js';
import type { Candidate } from './candidate.js';

/**
 * A candidate that looks like something else than a peak.
 *
 * @public
 */
export interface SetApart {
  /** The candidate. */
  readonly candidate: Candidate;
  /** What it looks like. */
  readonly kind: 'spike' | 'bubble' | 'early disturbance';
  /** What was seen, in a sentence. */
  readonly evidence: string;
}

/** [-] Share of its height that must come within three points for a side to be called sharp. */
const sharpShare = 0.4;
/** [points] Width at half height below which every peak is sharp. */
const leastPoints = 8;
/** [-] Height of a rise over the depth of the dip before it, or after it, from which the rise is a peak. */
const mostRise = 4;
const mostRiseBefore = 40;
/** [-] Width over the width expected at its place, below which a bump is a spike. */
const spikeShare = 0.3;

/**
 * Sets apart what is no peak, by shape and company and never by time alone:
 * sharp-sided bubbles, bumps far narrower than every peak near them, and the
 * dip, or dip and rise side by side, with which a run begins when the injected
 * solvent leaves the column (to be expected: common practice, no source).
 */
export function setApart(
  candidates: readonly Candidate[],
  edges: readonly Edge[],
  step: number,
  beginning: number,
): { readonly candidates: Candidate[]; readonly apart: SetApart[] } {
  const apart: SetApart[] = [];
  const left: Candidate[] = [];
  for (const c of candidates) {
    const edge = edges.find(
      (e) =>
        !e.lasting &&
        e.at > c.from - 3 * step &&
        e.at < c.to + 3 * step &&
        Math.abs(e.jump) > sharpShare * Math.abs(c.height),
    );
    if (edge !== undefined && 2.355 * c.sigma >= leastPoints * step) {
      apart.push({
        candidate: c,
        kind: 'bubble',
        evidence: `Changes by ${Math.abs(edge.jump / c.height).toFixed(2)} of its height within three points at ${edge.at.toFixed(3)} min.`,
      });
    } else left.push(c);
  }
  const wide = left.filter((c, i) => {
    const share = widthShare(left, i, step);
    if (share === undefined || share > spikeShare) return true;
    apart.push({
      candidate: c,
      kind: 'spike',
      evidence: `Only ${share.toFixed(2)} times as wide as the peaks beside it.`,
    });
    return false;
  });
  return { candidates: withoutEarly(wide, apart, beginning), apart };
}

/**
 * Width of a candidate over the least width its nearest neighbours, at most
 * three on each side and two at least, let expect at its place: the same (as
 * under a gradient) or in proportion to time (as along an isocratic run).
 */
function widthShare(all: readonly Candidate[], i: number, step: number): number | undefined {
  const own = all[i]!;
  let expected = Infinity;
  let taken = 0;
  for (const side of [-1, 1]) {
    for (let k = i + side, seen = 0; k >= 0 && k < all.length && seen < 3; k += side) {
      const other = all[k]!;
      if (other.sigma <= 1.5 * step) continue;
      const earlier = other.apex > own.apex && own.apex > 0 ? own.apex / other.apex : 1;
      expected = Math.min(expected, other.sigma * earlier);
      seen++;
      taken++;
    }
  }
  return taken < 2 ? undefined : own.sigma / expected;
}

/** Takes the early disturbance off the beginning, if there is one. */
function withoutEarly(candidates: Candidate[], apart: SetApart[], beginning: number): Candidate[] {
  const first = candidates[0];
  if (first === undefined) return candidates;
  // The leading group: neighbours that follow each other without baseline between.
  let end = 1;
  while (end < candidates.length && touches(candidates[end - 1]!, candidates[end]!)) end++;
  const group = candidates.slice(0, end);
  const rest = candidates.slice(end);
  const firstDown = group.findIndex((c) => c.direction === 'down');
  if (firstDown < 0) return candidates;
  let lastOfPair = group.length - 1;
  while (lastOfPair > firstDown && group[lastOfPair]!.direction === 'up' && group[lastOfPair - 1]!.direction === 'up')
    lastOfPair--;
  if (firstDown > 1) return candidates;
  const deepest = Math.max(...group.slice(0, lastOfPair + 1).map((c) => (c.direction === 'down' ? -c.height : 0)));
  // After a dip a far larger rise is a peak; a rise with which the run begins is not followed by a dip if it is one.
  const early: Candidate[] = [];
  for (const [i, c] of group.slice(0, lastOfPair + 1).entries()) {
    if (c.direction === 'up' && c.height > (i < firstDown ? mostRiseBefore : mostRise) * deepest) break;
    early.push(c);
  }
  if (early.length === 0) return candidates;
  const bothSigns = early.some((c) => c.direction === 'up');
  const upElsewhere = rest.some((c) => c.direction === 'up');
  const downElsewhere = rest.some((c) => c.direction === 'down');
  // A dip on its own needs the company of peaks that all point up, or, in a blank, to lie where solvent comes.
  if (!bothSigns && (downElsewhere || (!upElsewhere && early[0]!.apex > beginning))) return candidates;
  for (const c of early) {
    apart.push({
      candidate: c,
      kind: 'early disturbance',
      evidence: `A dip${bothSigns ? ' and a rise' : ''} before every peak of the run: what injected solvent or air does.`,
    });
  }
  return candidates.slice(early.length);
}

/** Whether two neighbours follow each other without baseline between. */
function touches(a: Candidate, b: Candidate): boolean {
  const near = b.apex - a.apex < 4.5 * (a.sigma + b.sigma);
  return (
    near &&
    (a.to >= b.from - 0.5 * Math.min(a.sigma, b.sigma) || a.toKind === 'neighbour' || b.fromKind === 'neighbour')
  );
}
