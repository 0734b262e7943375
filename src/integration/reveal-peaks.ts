import { addCurve, curveFor, fitCurves, type Curve, type CurveFit } from './curve-fit.js';
import { apexOf, areaOf, chooseCurves, heightOf, sigmaOf, worstCurves } from './choose-curves.js';
import type { CurveKind } from './curve-kinds.js';
import type { FitWindow } from './fit-window.js';

/** [-] Misfit from which a peak without a maximum of its own is looked for. */
const suspicious = 1.6;
/** [-] What it must leave of the misfit that any single shape gives. */
const leastGain = 0.4;
/** [-] Misfit above which not even the added peak explains the signal: a bubble, or a baseline that is off. */
const mostMisfit = 2.5;
/** [-] Least height over the noise of a mean, and least share of the area, of every peak there is then. */
const leastHeight = 5;
const leastShare = 0.02;
/** [sigma] Least distance of two apexes. */
const leastApart = 1.2;
/** [sigma] Where a hidden peak may sit beside one that is seen. */
const places = [-1.5, 1.5, 2.5] as const;

/**
 * Adds peaks that have no maximum of their own, while the evidence demands one:
 * the misfit must fall to half of what the peaks that are seen leave, each in
 * whatever shape suits it best, and every peak must stand out of the noise.
 *
 * @param plain - The peaks that are seen, fitted with the usual shape.
 * @param chosen - The same, each with its best shape.
 */
export function revealPeaks(
  window: FitWindow,
  plain: CurveFit,
  chosen: CurveFit,
  kinds: readonly CurveKind[],
  most: number,
): CurveFit {
  let base = plain;
  let result = chosen;
  for (let added = 0; added < most && result.misfit > suspicious; added++) {
    let best: CurveFit | undefined;
    for (const extra of suspects(window, base)) {
      const curves = [...base.curves, extra].sort((a, b) => a.apex - b.apex);
      const trial = fitCurves(window, curves);
      if (trial === undefined) continue;
      if (best === undefined || trial.squares < best.squares) best = trial;
    }
    if (best === undefined) break;
    const full = chooseCurves(window, best, kinds);
    if (!(full.misfit < Math.min(mostMisfit, leastGain * result.misfit))) break;
    let total = 0;
    for (const curve of full.curves) total += areaOf(curve);
    const real = (c: Curve) => heightOf(c) > leastHeight * window.noise && areaOf(c) > leastShare * total;
    if (!full.curves.every(real) || !areApart(full.curves)) break;
    base = best;
    result = full;
  }
  return result;
}

/** Whether no two apexes are so close that one broad peak would do as well. */
function areApart(curves: readonly Curve[]): boolean {
  const sorted = [...curves].sort((a, b) => apexOf(a) - apexOf(b));
  return sorted.every((curve, i) => {
    const next = sorted[i + 1];
    if (next === undefined) return true;
    return apexOf(next) - apexOf(curve) > leastApart * Math.min(sigmaOf(curve), sigmaOf(next));
  });
}

/** Peaks that might be hidden: on both flanks of each, and where the signal stands furthest above the fit. */
function suspects(window: FitWindow, fit: CurveFit): Curve[] {
  const { time, value, count, weight, noise, middle, half } = window;
  const found: Curve[] = [];
  const inside = (t: number) => t > time[0]! && t < time[count - 1]!;
  const rest = new Float64Array(count);
  const blamed = worstCurves(window, fit);
  fit.curves.forEach((curve, i) => {
    addCurve(curve, time, count, rest);
    if (!blamed.has(i)) return;
    const sigma = sigmaOf(curve);
    for (const place of places) {
      const apex = apexOf(curve) + place * sigma;
      const height = 0.3 * curve.sign * heightOf(curve);
      if (inside(apex)) found.push(curveFor('tailing', -1, height, apex, 0.9 * Math.min(curve.sigma, sigma)));
    }
  });
  let top = 1;
  let most = 0;
  const over = (k: number) => value[k]! - rest[k]! - fit.line[0] - (fit.line[1] * (time[k]! - middle)) / half;
  const { sign } = fit.curves[0]!;
  for (let k = 1; k + 1 < count; k++) {
    const stands = sign * (over(k - 1) + over(k) + over(k + 1)) * weight[k]!;
    if (stands > most) [top, most] = [k, stands];
  }
  const near = fit.curves.reduce((a, b) => (Math.abs(a.apex - time[top]!) < Math.abs(b.apex - time[top]!) ? a : b));
  const height = sign * (Math.abs(over(top)) + noise);
  found.push(curveFor('tailing', -1, height, time[top]!, 0.9 * near.sigma));
  return found;
}
