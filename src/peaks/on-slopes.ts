import type { JoinedStretches } from '../numeric/index.js';
import { centreOf, meanLength, noiseAt, touchesGap, type Pyramid, type ScaleNoise } from '../signal/index.js';
import type { Extremum } from './extrema.js';
import { isTaken } from './false-alarms.js';
import { hollowShare } from './likeness.js';

/** [-] Bulge and hollows over their noise that a peak needs to be seen by its shape alone; ours, chosen on simulated runs. */
const leastLike = 4;
/** [-] Bulge of a Gaussian in means of one standard deviation, over its height. */
const bulgeShare = 0.343;
/** Width at half height of a Gaussian over its standard deviation. */
const halfHeightFactor = 2.354820045030949;
/** [sigma] What is nearer to a peak that was seen is a shoulder of it. */
const apart = 4;

/**
 * Peaks without a maximum of their own because they stand on a slope, as on a
 * gradient: where the signal bulges between two hollow flanks, both far above
 * their noise, and no peak is near. A straight slope has neither, and one that bends has no second flank.
 *
 * @param taken - Stretches of the peaks that were seen.
 * @param sign - 1 for what points up.
 * @param finest - Level of the shortest means looked at.
 */
export function findOnSlopes(
  taken: JoinedStretches,
  sign: 1 | -1,
  pyramid: Pyramid,
  noise: ScaleNoise,
  finest: number,
): Extremum[] {
  const found: Extremum[] = [];
  for (let level = finest; level < pyramid.levels.length; level++) {
    const m = pyramid.levels[level]!;
    const n = m.length;
    const bin = meanLength(pyramid, level);
    const low = leastLike * Math.min(...noise.local[level]!);
    for (let i = 3; i < n - 3; i++) {
      const bulge = sign * (m[i]! - 0.5 * (m[i - 1]! + m[i + 1]!));
      if (bulge < low) continue;
      const left = sign * (0.5 * (m[i - 3]! + m[i - 1]!) - m[i - 2]!);
      const right = sign * (0.5 * (m[i + 3]! + m[i + 1]!) - m[i + 2]!);
      const least = Math.min(bulge, left / hollowShare, right / hollowShare);
      if (least < low) continue;
      const scatter = noiseAt(noise, level, i / n);
      if (least < leastLike * scatter) continue;
      const at = centreOf(pyramid, level, i);
      if (isTaken(taken, at, apart * bin)) continue;
      if (found.some((e) => Math.abs(e.at - at) < Math.max(3 * bin, e.width))) continue;
      if (pyramid.gaps.length > 0 && touchesGap(pyramid, level, i - 3, i + 3)) continue;
      found.push({
        sign,
        level,
        at,
        value: m[i]!,
        before: at - 3.5 * bin,
        after: at + 3.5 * bin,
        prominence: bulge / bulgeShare,
        width: halfHeightFactor * bin,
        significance: Math.min(bulge / bulgeShare / scatter, 1e12),
        atEnd: false,
      });
    }
  }
  return found;
}
