import { noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';
import type { Bump } from './bumps.js';
import type { Candidate, RejectedCandidate } from './candidate.js';
import { alarmText } from './false-alarms.js';
import { likeness } from './likeness.js';

/** Limits of the tests, and the length of the run. */
export interface Limits {
  readonly leastSignalToNoise: number;
  readonly fewestPlates: number;
  /** [a run] */
  readonly falseAlarms: number;
  /** [min] */
  readonly duration: number;
}

/** [sigma] Pace up to which wander is held against a bump. */
const wanderReach = 3;
/** [-] Width over the largest that the neighbours let expect, from which a hump is background. */
const mostBroad = 3;
/** [-] Height of a bump over a neighbour of the other direction it joins, on one side, or on both, below which it is ground. */
const mostFoot = 0.15;
const mostBetween = 1;
/** [-] Range of a few hundred normal values over their standard deviation. */
const rangeFactor = 6;

/** [-] Signal to noise over the least from which on nothing is asked of the false-alarm rate: neighbours may hide how rare a bump is. */
const doubt = 1.5;
/** [-] Bulge and hollow flanks over their noise below which a bump is no peak. */
const leastLike = 1;
/** [-] Likeness from which a bump may stand on something broader without coming down. */
const clearlyLike = 12;

/** The test that a flank at an end of the record fails. */
export const apexInside = 'apex inside the record';

/** The first test a bump fails, if any. */
export function failedTest(
  bump: Bump,
  noise: ScaleNoise,
  pyramid: Pyramid,
  limits: Limits,
  alarms: (bump: Bump) => number,
): RejectedCandidate | undefined {
  const { leastSignalToNoise, falseAlarms, fewestPlates, duration } = limits;
  const reject = (test: string, value: number, limit: number, text: string): RejectedCandidate => ({
    at: bump.at,
    height: bump.sign * bump.height,
    test,
    value,
    limit,
    text,
  });
  const ratioTo = (reach: number): number => {
    const h = background(bump, noise, pyramid, reach);
    return h > 0 ? Math.min(1e12, (2 * bump.height) / h) : 1e12;
  };
  const lost = (kind: string, ratio: number, limit: number): RejectedCandidate => {
    const text = `Stands ${ratio.toFixed(1)} times half the ${kind} above the baseline (${limit} needed).`;
    return reject(`signal-to-noise, ${kind}`, ratio, limit, text);
  };
  const ratio = ratioTo(1);
  if (ratio < leastSignalToNoise) return lost('background', ratio, leastSignalToNoise);
  // Wander is as slow as a peak: against it half the ratio must do, since crowded peaks look like wander too.
  const overWander = ratioTo(wanderReach);
  if (overWander < leastSignalToNoise / 2) return lost('wander', overWander, leastSignalToNoise / 2);
  if (Math.min(ratio, 2 * overWander) < doubt * leastSignalToNoise) {
    const rate = alarms(bump);
    if (rate > falseAlarms) return reject('false alarms', rate, falseAlarms, alarmText(rate, falseAlarms));
  }
  const time = Math.max(bump.at - Math.min(pyramid.start, 0), duration / 50);
  const plates = (time / bump.sigma) * (time / bump.sigma);
  if (plates < fewestPlates) {
    const text = `So broad that it has ${plates.toFixed(0)} plates (${fewestPlates} needed): background.`;
    return reject('width', plates, fewestPlates, text);
  }
  if (bump.extremum.atEnd) {
    return reject(apexInside, 0, 1, 'The record begins or ends on its flank.');
  }
  return undefined;
}

/**
 * [signal unit] Peak-to-peak background to expect around a bump, from the noise
 * at every coarseness up to `reach` of its standard deviations.
 */
function background(bump: Bump, noise: ScaleNoise, pyramid: Pyramid, reach: number): number {
  const place = (bump.at - pyramid.start) / (pyramid.step * pyramid.levels[0]!.length);
  let squares = 0;
  for (let l = 0, box = pyramid.step; l < noise.level.length && (l < 4 || box <= reach * bump.sigma); l++, box *= 2) {
    const own = noiseAt(noise, l, place);
    squares += (own * own) / 3;
  }
  return rangeFactor * Math.sqrt(squares);
}

/**
 * The record of a bump that is only the foot of a larger one of the other
 * direction beside it, or the ground between two; nothing when it is not.
 */
export function footTest(bumps: readonly Bump[], i: number): RejectedCandidate | undefined {
  const bump = bumps[i]!;
  let highest = 0;
  let sides = 0;
  for (const k of [i - 1, i + 1]) {
    const other = bumps[k];
    if (other === undefined || other.sign === bump.sign) continue;
    const gap = k < i ? bump.from - other.to : other.from - bump.to;
    if (gap >= 0.7 * Math.min(bump.sigma, other.sigma)) continue;
    // The dip after the first rise of a run may be the solvent's; it is judged with its company.
    if (k === 0 && other.height < 10 * bump.height) return undefined;
    highest = Math.max(highest, other.height);
    sides++;
  }
  const limit = sides === 2 ? mostBetween : mostFoot;
  if (sides === 0 || bump.height >= limit * highest) return undefined;
  const share = bump.height / highest;
  return {
    at: bump.at,
    height: bump.sign * bump.height,
    test: 'apart from a larger neighbour',
    value: share,
    limit,
    text: `Has ${share.toPrecision(2)} of the height of the neighbour it joins (${limit} needed): ground beside a peak.`,
  };
}

/**
 * The record of a bump that on one side neither comes down to half its height
 * nor meets a neighbour of its direction: a wrinkle on something broader.
 */
export function sideTest(bumps: readonly Bump[], i: number): RejectedCandidate | undefined {
  const bump = bumps[i]!;
  for (const side of [-1, 1]) {
    if (side < 0 ? bump.fromHalf : bump.toHalf) continue;
    const other = bumps[i + side];
    const reach = side < 0 ? bump.from : bump.to;
    // The neighbour is met when its own reach comes to the same place.
    const met =
      other?.sign === bump.sign && (side < 0 ? other.to > reach - other.sigma : other.from < reach + other.sigma);
    const cut = side < 0 ? bump.cutBefore : bump.cutAfter;
    if (met || cut) continue;
    return {
      at: bump.at,
      height: bump.sign * bump.height,
      test: 'comes down on both sides',
      value: 0.5,
      limit: 0.5,
      text: `Does not come down to half its height ${side < 0 ? 'before' : 'after'} its apex.`,
    };
  }
  return undefined;
}

/** Whether a bump is so like a peak that it need not come down: it stands on something broader. */
export function isClearlyPeak(
  { at, sign, sigma }: Bump,
  { pyramid, noise }: { readonly pyramid: Pyramid; readonly noise: ScaleNoise },
): boolean {
  const value = likeness({ at, sign, sigma, before: true, after: true }, pyramid, noise, clearlyLike);
  return value !== undefined && value >= clearlyLike;
}

/** The record of a candidate far broader than its neighbours let expect; nothing when it is not. */
export function broadTest(candidates: readonly Candidate[], i: number): RejectedCandidate | undefined {
  const own = candidates[i]!;
  let expected = 0;
  let taken = 0;
  for (let k = Math.max(0, i - 3); k <= Math.min(candidates.length - 1, i + 3); k++) {
    if (k === i) continue;
    const other = candidates[k]!;
    const later = own.apex > other.apex && other.apex > 0 ? own.apex / other.apex : 1;
    expected = Math.max(expected, other.sigma * later);
    taken++;
  }
  const ratio = own.sigma / expected;
  if (taken < 2 || ratio < mostBroad) return undefined;
  return {
    at: own.apex,
    height: own.height,
    test: 'width among its neighbours',
    value: ratio,
    limit: mostBroad,
    text: `${ratio.toFixed(1)} times as broad as its neighbours let expect (at most ${mostBroad}).`,
  };
}

/** The record of a candidate that is not shaped like a peak; nothing when it is, or when a neighbour covers its flanks. */
export function shapeTest(own: Candidate, pyramid: Pyramid, noise: ScaleNoise): RejectedCandidate | undefined {
  const { apex: at, direction, sigma, fromKind, toKind } = own;
  // Of what the record cuts too little is left.
  if (fromKind === 'cut off' || toKind === 'cut off') return undefined;
  const sign = direction === 'up' ? 1 : -1;
  const look = { at, sign, sigma, before: fromKind === 'baseline', after: toKind === 'baseline' } as const;
  const value = likeness(look, pyramid, noise, leastLike);
  if (value === undefined || value >= leastLike) return undefined;
  return {
    at: own.apex,
    height: own.height,
    test: 'shape of a peak',
    value,
    limit: leastLike,
    text: `Does not bulge between two hollow flanks: ${value.toFixed(1)} times the noise of such a shape (${leastLike} needed).`,
  };
}
