import { apexOf } from './choose-curves.js';
import type { Curve } from './curve-fit.js';

/** The curves, each peak that is seen with the one whose apex is nearest to where it was seen: a fit may have exchanged them. */
export function byNearest(curves: readonly Curve[]): Curve[] {
  const apexes = curves.map(apexOf);
  const owner = curves.map(() => -1);
  for (const { peak, apex } of curves) {
    if (peak < 0) continue;
    let best = -1;
    apexes.forEach((at, i) => {
      if (owner[i] === -1 && (best < 0 || Math.abs(at - apex) < Math.abs(apexes[best]! - apex))) best = i;
    });
    owner[best] = peak;
  }
  return curves.map((curve, i) => ({ ...curve, peak: owner[i]! }));
}
