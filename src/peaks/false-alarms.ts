import { erfc, firstAtOrAfter, type JoinedStretches } from '../numeric/index.js';
import {
  centreOf,
  indexAt,
  levelWithin,
  meanLength,
  touchesGap,
  type Pyramid,
  type ScaleNoise,
} from '../signal/index.js';
import type { RejectedCandidate } from './candidate.js';
import type { Extremum } from './extrema.js';

/** [means] From so many on the noise of a level is measured well enough to count rare events with. */
const manyMeans = 500;
/** [widths] Length of the shortest means looked at. */
const finestMeans = 0.5;
/** [-] No noise grows by more from a level to the next than this over what independent means would have. */
const mostGrowth = 3;
/** [sigma] Length of the means that show a Gaussian best, and its bulge in them over its height. */
const bestLength = 3;
const bulgeShare = 0.668;
/** Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;
/** [a run] What noise gives more often than this is not offered. */
const mostOffered = 0.1;

/** The noise against which bumps are counted. */
export interface Chance {
  /** [signal unit] Standard deviation of the bulge m[i] - (m[i-1] + m[i+1]) / 2 of noise alone, by level. */
  readonly scatter: readonly number[];
  /** [-] Places times widths that a run offers to noise, both directions. */
  readonly places: number;
  /** Finest level that is looked at: means much shorter than the peaks of a run show none. */
  readonly finest: number;
}

/**
 * The noise of a run as it counts for rare events. Levels with many means were measured, with whatever
 * correlation the noise has; above them neighbouring means are taken to be independent unless more was seen.
 */
export function chanceOf(pyramid: Pyramid, noise: ScaleNoise, width: number): Chance {
  const { levels } = pyramid;
  const finest = levelWithin(pyramid, 1, finestMeans * width);
  const scatter: number[] = [];
  let places = 0;
  levels.forEach((means, l) => {
    const independent = l > 0 ? scatter[l - 1]! * Math.SQRT1_2 : Infinity;
    const calm = Math.max(noise.calm[l]!, noise.quantum / 4 / 2 ** l, Number.MIN_VALUE);
    scatter.push(
      l === 0 || means.length >= manyMeans
        ? calm
        : Math.max(independent, Math.min(noise.level[l]!, mostGrowth * independent), Number.MIN_VALUE),
    );
    if (l >= finest) places += Math.max(0, means.length - 2);
  });
  return { scatter, places, finest };
}

/**
 * [a run] How many bumps at least as significant noise alone gives in a run as long: the expected number of
 * places and widths, of all that are looked at, at which the bulge of normal noise is as many standard
 * deviations. An expected number, it holds whatever the correlation between places.
 */
export function alarmsOf(significance: number, { places }: Chance): number {
  return places * erfc(significance * Math.SQRT1_2);
}

/**
 * [a run] The false-alarm rate of a bump, from the means two to six times as long as its standard deviation
 * in which it stands out most: a matched filter without level and slope, in steps of two (North's, from memory).
 */
export function falseAlarms(at: number, sign: 1 | -1, sigma: number, pyramid: Pyramid, chance: Chance): number {
  let best = 0;
  for (let l = 1; l < pyramid.levels.length; l++) {
    const length = meanLength(pyramid, l) / sigma;
    if (length < bestLength / 2 && l + 1 < pyramid.levels.length) continue;
    if (length > 2 * bestLength && best > 0) break;
    const middle = indexAt(pyramid, l, at);
    for (let i = middle - 1; i <= middle + 1; i++)
      best = Math.max(best, bulgeAt(pyramid.levels[l]!, i, sign) / chance.scatter[l]!);
  }
  return alarmsOf(Math.min(best, 1e6), chance);
}

/** [signal unit] How far a mean stands above the middle of its neighbours. */
function bulgeAt(m: Float64Array, i: number, sign: 1 | -1): number {
  return i < 1 || i > m.length - 2 ? 0 : sign * (m[i]! - 0.5 * (m[i - 1]! + m[i + 1]!));
}

/** Whether a stretch that is taken comes nearer to a place than `reach`. */
export function isTaken(taken: JoinedStretches, at: number, reach: number): boolean {
  const next = firstAtOrAfter(taken.to, at - reach);
  return next < taken.from.length && taken.from[next]! < at + reach;
}

/** A place that stands out too little to be seen as an extreme, with its false-alarm rate. */
export interface Offer {
  readonly extremum: Extremum;
  /** [a run] */
  readonly falseAlarms: number;
}

/** What stands out of the noise outside the stretches that are taken, the most significant of each place. */
export function findOffers(taken: JoinedStretches, pyramid: Pyramid, chance: Chance): Offer[] {
  let least = 0;
  while (alarmsOf(least, chance) > mostOffered) least += 0.1;
  const seen: { level: number; i: number; bulge: number; significance: number }[] = [];
  for (let level = chance.finest; level < pyramid.levels.length; level++) {
    const m = pyramid.levels[level]!;
    const limit = least * chance.scatter[level]!;
    for (let i = 1; i + 1 < m.length; i++) {
      const bulge = m[i]! - 0.5 * (m[i - 1]! + m[i + 1]!);
      if (bulge <= limit && bulge >= -limit) continue;
      const at = centreOf(pyramid, level, i);
      const reach = 1.5 * meanLength(pyramid, level);
      if (isTaken(taken, at, reach)) continue;
      if (pyramid.gaps.length > 0 && touchesGap(pyramid, level, i - 1, i + 1)) continue;
      seen.push({ level, i, bulge, significance: Math.min(Math.abs(bulge) / chance.scatter[level]!, 1e6) });
    }
  }
  seen.sort((a, b) => b.significance - a.significance);
  const offers: Offer[] = [];
  for (const { level, i, bulge, significance } of seen) {
    const at = centreOf(pyramid, level, i);
    const length = meanLength(pyramid, level);
    // What a bump does to the means beside it is no bump.
    if (offers.some(({ extremum: e }) => Math.abs(e.at - at) < 1.6 * Math.max(length, e.after - e.at))) continue;
    const height = Math.abs(bulge) / bulgeShare;
    const extremum: Extremum = {
      sign: bulge > 0 ? 1 : -1,
      level: Math.max(0, level - 2),
      at,
      value: pyramid.levels[level]![i]!,
      before: at - 1.5 * length,
      after: at + 1.5 * length,
      prominence: height,
      width: (halfHeightFactor * length) / bestLength,
      significance: significance / bulgeShare,
      atEnd: false,
    };
    offers.push({ extremum, falseAlarms: alarmsOf(significance, chance) });
  }
  return offers.sort((a, b) => a.extremum.at - b.extremum.at);
}

/** How often noise does as much, in a sentence. */
export function alarmText(rate: number, limit: number): string {
  return `Stands out of the noise only a little: noise alone gives ${rate.toPrecision(2)} such bumps a run (${limit} allowed).`;
}

/** The record of an offer: too frequent in noise, or rare enough and yet without a maximum or the shape of a peak. */
export function offered({ extremum: e, falseAlarms }: Offer, limit: number): RejectedCandidate {
  const place = { at: e.at, height: e.sign * e.prominence, falseAlarms };
  if (falseAlarms > limit) {
    return { ...place, test: 'false alarms', value: falseAlarms, limit, text: alarmText(falseAlarms, limit) };
  }
  const rate = falseAlarms.toPrecision(2);
  const text = `Is no noise (that gives ${rate} such bumps a run), but has neither a maximum of its own nor the shape of a peak.`;
  return { ...place, test: 'a maximum or the shape of a peak', value: 0, limit: 1, text };
}
