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
): { readonly peaks: Candidate[]; readonly apart: SetApart[] } {
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
        evidence: `Its side at ${edge.at.toFixed(3)} min takes ${((100 * Math.abs(edge.jump)) / Math.abs(c.height)).toFixed(0)} % of its height within three points, while it is ${((2.355 * c.sigma) / step).toFixed(0)} points wide: no band leaves a column like that.`,
      });
    } else left.push(c);
  }
  const wide = left.filter((c) => !isSpike(c, left, step, apart));
  return { peaks: withoutEarly(wide, apart), apart };
}

/** Whether a candidate is far narrower than peaks around it; records it when so. */
function isSpike(c: Candidate, all: readonly Candidate[], step: number, apart: SetApart[]): boolean {
  const others = all.filter((o) => o !== c && o.sigma > 1.5 * step);
  if (others.length < 2) return false;
  // Widths grow along an isocratic run and stay alike under a gradient: the smaller expectation is the safe one.
  const sigmas = others.map((o) => o.sigma).sort((a, b) => a - b);
  const ratios = others.map((o) => o.sigma / Math.max(o.apex, step)).sort((a, b) => a - b);
  const middle = (v: readonly number[]) => v[v.length >> 1]!;
  const expected = Math.min(middle(sigmas), middle(ratios) * Math.max(c.apex, step));
  if (c.sigma > spikeShare * expected) return false;
  apart.push({
    candidate: c,
    kind: 'spike',
    evidence: `It is ${(c.sigma / expected).toFixed(2)} times as wide as a peak at its place would be, judged by the others of the run.`,
  });
  return true;
}

/** Takes the early disturbance off the beginning, if there is one. */
function withoutEarly(candidates: Candidate[], apart: SetApart[]): Candidate[] {
  const first = candidates[0];
  if (first === undefined) return candidates;
  // The leading group: neighbours that follow each other without baseline between.
  let end = 1;
  while (end < candidates.length && touches(candidates[end - 1]!, candidates[end]!)) end++;
  const group = candidates.slice(0, end);
  const rest = candidates.slice(end);
  let firstDown = group.findIndex((c) => c.direction === 'down');
  if (firstDown < 0) return candidates;
  let lastOfPair = group.length - 1;
  while (lastOfPair > firstDown && group[lastOfPair]!.direction === 'up' && group[lastOfPair - 1]!.direction === 'up')
    lastOfPair--;
  if (firstDown > 1) return candidates;
  const early = group.slice(0, lastOfPair + 1);
  const bothSigns = early.some((c) => c.direction === 'up');
  const downElsewhere = rest.some((c) => c.direction === 'down');
  if (!bothSigns && downElsewhere) return candidates;
  firstDown = 0;
  for (const c of early) {
    apart.push({
      candidate: c,
      kind: 'early disturbance',
      evidence: bothSigns
        ? 'A dip and a rise side by side, before every other peak of the run: what injected solvent or air does to the light when it leaves the column.'
        : 'A dip before every other peak of the run, none of which points down: what injected solvent does to the light when it leaves the column.',
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
