import type { Interval } from '../baseline/index.js';
import { joinStretches } from '../numeric/index.js';
import type { Pyramid, ScaleNoise } from '../signal/index.js';
import type { Bump } from './bumps.js';
import type { Candidate, RejectedCandidate } from './candidate.js';
import type { Extremum } from './extrema.js';
import { chanceOf, falseAlarms, findOffers, offered, type Offer } from './false-alarms.js';
import { likeness } from './likeness.js';
import { findOnSlopes } from './on-slopes.js';

/** [-] Likeness to a peak that something without a clear maximum needs to be taken for one. */
const leastLike = 3;
/** [widths] What is broader than this is no peak without a clear maximum. */
const broadest = 4;
/** Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;

/** What there is beside the extremes. */
interface Further {
  /** Extremes to be judged with the others, and the stretches that they take. */
  readonly extrema: readonly Extremum[];
  readonly stretches: readonly Interval[];
  /** What stands out of the noise and is not among them. */
  readonly offers: readonly Offer[];
  /** [a run] The false-alarm rate of a bump. */
  readonly alarms: (at: number, sign: 1 | -1, sigma: number) => number;
  readonly alarmsOf: (bump: Bump) => number;
}

/** Looks for peaks without a clear maximum: on slopes, and in the noise. */
export function lookFurther(
  surveyed: readonly Interval[],
  { pyramid, noise, width }: { readonly pyramid: Pyramid; readonly noise: ScaleNoise; readonly width: number },
  polarity: 1 | -1,
  asked: { readonly leastProminence: number; readonly falseAlarms: number },
): Further {
  const chance = chanceOf(pyramid, noise, width);
  const stands = ({ significance }: Extremum): boolean => significance >= asked.leastProminence;
  const taken = joinStretches([...surveyed]);
  const onSlopes = findOnSlopes(taken, polarity, pyramid, noise, chance.finest).filter(stands);
  const stretches = onSlopes.map(({ at, width: w }) => ({ from: at - 1.6 * w, to: at + 1.8 * w }));
  const left = stretches.length > 0 ? joinStretches([...surveyed, ...stretches]) : taken;
  const isPeak = ({ extremum: e, falseAlarms: rate }: Offer): boolean => {
    const look = { at: e.at, sign: e.sign, sigma: e.width / halfHeightFactor, before: true, after: true };
    if (rate > asked.falseAlarms || !stands(e) || e.sign !== polarity || look.sigma >= broadest * width) return false;
    return (likeness(look, pyramid, noise, leastLike) ?? 0) >= leastLike;
  };
  const offers: Offer[] = [];
  const accepted: Extremum[] = [];
  for (const offer of findOffers(left, pyramid, chance)) {
    if (isPeak(offer)) accepted.push(offer.extremum);
    else offers.push(offer);
  }
  const alarms = (at: number, sign: 1 | -1, sigma: number): number => falseAlarms(at, sign, sigma, pyramid, chance);
  return {
    extrema: [...onSlopes, ...accepted],
    stretches: [...stretches, ...accepted.map(({ before: from, after: to }) => ({ from, to }))],
    offers,
    alarms,
    alarmsOf: ({ at, sign, sigma }) => alarms(at, sign, sigma),
  };
}

/** The records of the offers where nothing else was seen. */
export function leftOver(
  offers: readonly Offer[],
  rejected: readonly RejectedCandidate[],
  candidates: readonly Candidate[],
  limit: number,
): RejectedCandidate[] {
  return offers
    .filter(
      ({ extremum: { at, before, after } }) =>
        candidates.every(({ from, to }) => at < from || at > to) &&
        !rejected.some((r) => r.at > before && r.at < after),
    )
    .map((offer) => offered(offer, limit));
}
