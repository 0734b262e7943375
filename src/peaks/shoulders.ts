import { centreOf, indexAt, levelWithin, noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';
import type { Candidate, RejectedCandidate } from './candidate.js';

/** The test a shoulder fails. */
export const ownMaximum = 'a maximum of its own';
/** [-] Bend over its noise that a shoulder needs, and share of the height of its peak. */
const leastBend = 6;
const leastShare = 0.0003;

/**
 * Shoulders: places on a flank where the signal, having run hollow, bulges out
 * again without rising, as a hidden neighbour makes it. They are reported, not
 * separated. No single peak, tailing or not, bulges twice on one side.
 */
export function findShoulders(
  candidates: readonly Candidate[],
  pyramid: Pyramid,
  noise: ScaleNoise,
): RejectedCandidate[] {
  const shoulders: RejectedCandidate[] = [];
  for (const c of candidates) {
    const sign = c.direction === 'up' ? 1 : -1;
    const level = levelWithin(pyramid, 0, 0.35 * c.sigma);
    const means = pyramid.levels[level]!;
    for (const side of [-1, 1] as const) {
      const end = indexAt(pyramid, level, side < 0 ? c.from : c.to);
      let hollow = false;
      let best = 0;
      let at = -1;
      for (let i = indexAt(pyramid, level, c.apex); side * (end - i) > 0 && i > 0 && i + 1 < means.length; i += side) {
        const limit = Math.max(leastBend * noiseAt(noise, level, i / means.length), leastShare * Math.abs(c.height));
        const bend = (sign * (means[i]! - 0.5 * (means[i - 1]! + means[i + 1]!))) / limit;
        if (bend < -1) hollow = true;
        else if (hollow && bend > Math.max(1, best)) {
          best = bend;
          at = i;
        }
      }
      const time = centreOf(pyramid, level, at);
      // Where a neighbour has its maximum the bulge is the neighbour's.
      if (at < 0 || candidates.some((o) => o !== c && Math.abs(o.apex - time) < 1.5 * o.sigma)) continue;
      shoulders.push({
        at: time,
        height: c.height,
        test: ownMaximum,
        value: 0,
        limit: 1,
        text: `A shoulder on the ${side < 0 ? 'front' : 'tail'} of the peak at ${c.apex.toFixed(3)} min, without a maximum of its own: not separated.`,
      });
    }
  }
  return shoulders;
}
