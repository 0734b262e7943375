import type { CurveFit } from './curve-fit.js';
import { curveRules } from './curve-kinds.js';

/** [-] Step of a derivative, relative to the deviation of the parameter. */
const step = 0.05;

/**
 * [signal unit s] One standard uncertainty of the area of each curve of a fit:
 * the covariance of all parameters, carried through the area of the shape by its
 * derivatives (law of propagation, JCGM 100:2008, 5.2), and widened by a misfit
 * beyond 1. Nothing for a curve when it cannot be known.
 */
export function areaDeviations({ curves, covariance, misfit }: CurveFit): (number | undefined)[] {
  let first = 0;
  const size = covariance ? Math.round(Math.sqrt(covariance.length)) : 0;
  return curves.map(({ kind, parameters }) => {
    const from = first;
    first += parameters.length;
    if (covariance === undefined) return undefined;
    const { family } = curveRules[kind];
    const slopes = parameters.map((value, q) => {
      const delta = step * Math.sqrt(covariance[(from + q) * (size + 1)]!);
      if (!(delta > 0)) return 0;
      const moved = (sign: 1 | -1) =>
        family.area([...parameters.slice(0, q), value + sign * delta, ...parameters.slice(q + 1)], 0);
      return (moved(1) - moved(-1)) / (2 * delta);
    });
    let variance = 0;
    slopes.forEach((a, q) => {
      slopes.forEach((b, r) => {
        variance += a * b * covariance[(from + q) * size + from + r]!;
      });
    });
    const deviation = 60 * Math.sqrt(variance) * Math.max(1, misfit);
    return Number.isFinite(deviation) && deviation > 0 ? deviation : undefined;
  });
}
