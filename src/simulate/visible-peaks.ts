import type { PeakCurve } from './peak-curve.js';
import { halfWidthOfSigma } from '../numeric/index.js';

/** [-] Steps in which a standard deviation is searched, and the part of it within which two extrema are one. */
const steps = 60;
const same = 0.04;

/**
 * Which peaks have an extremum of their own, of their sign, in a noise-free sum
 * within half a Gaussian sigma (half width / 2.355) of their apex and inside the
 * record. An extremum belongs to one peak, the nearest.
 *
 * @param curves - M peaks.
 * @param halfWidths - [min] M widths at half height.
 * @param sum - The noise-free sum at a time [min].
 * @param first - [min] First sample.
 * @param last - [min] Last sample.
 */
export function findVisible(
  curves: readonly PeakCurve[],
  halfWidths: readonly number[],
  sum: (time: number) => number,
  first: number,
  last: number,
): boolean[] {
  const pairs: { peak: number; at: number; distance: number; sign: number; sigma: number }[] = [];
  curves.forEach(({ position, height }, peak) => {
    const sigma = halfWidths[peak]! / (2 * halfWidthOfSigma);
    const h = sigma / steps;
    const sign = Math.sign(height);
    const from = position - sigma / 2;
    let before = sign * sum(from - h);
    let here = sign * sum(from);
    for (let k = 1; k <= steps + 1; k++) {
      const after = sign * sum(from + k * h);
      const at = from + (k - 1) * h;
      if (here > before && here >= after && at > first && at < last) {
        pairs.push({ peak, at, distance: Math.abs(at - position), sign, sigma });
      }
      before = here;
      here = after;
    }
  });
  pairs.sort((a, b) => a.distance - b.distance);
  const taken: typeof pairs = [];
  for (const pair of pairs) {
    const isTaken = taken.some(
      (o) => o.peak === pair.peak || (o.sign === pair.sign && Math.abs(o.at - pair.at) < same * pair.sigma),
    );
    if (!isTaken) taken.push(pair);
  }
  return curves.map((_, i) => taken.some(({ peak }) => peak === i));
}
