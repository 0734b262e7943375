import { byNearest } from './by-nearest.js';
import { addCurve, curveFor, fitCurves, type Curve, type CurveFit } from './curve-fit.js';
import { apexOf, areaOf, chooseCurves, heightOf, sigmaOf, worstCurves } from './choose-curves.js';
import type { CurveKind } from './curve-kinds.js';
import type { FitWindow } from './fit-window.js';

/** [-] Misfit from which a peak without a maximum of its own is looked for. */
export const suspicious = 1.1;
/** [-] What it must leave of the misfit that any shapes of the others give. */
const leastGain = 0.5;
/** [-] Misfit above which not even the added peak explains the signal: a bubble, or a baseline that is off. */
const mostMisfit = 1.6;
/** [noise²] What it must take off the squares, misfit and colour counted. */
const leastFall = 80;
/** [-] Its least height over the noise of a mean, over what the others hold there, and its least area over its neighbour's. */
const leastHeight = 12;
const leastStanding = 0.1;
const leastShare = 0.003;
/** [sigma] Least and greatest distance from its neighbour: nearer, one broad peak would do as well; further, it would be seen. */
const leastApart = 1.2;
const mostApart = 6;
/** [-] Least and greatest width over that of the nearest peak that is seen: what is broader is background, what is narrower a spike. */
const leastWidth = 0.65;
const mostWidth = 1.35;
/** [sigma] Where a hidden peak may sit beside one that is seen. */
const places = [-1.5, 1.5, 2.5] as const;

/**
 * Adds peaks that have no maximum of their own, while the evidence demands one:
 * the misfit must fall to half of what the peaks that are seen leave, each in
 * whatever shape suits it best, by far more than noise that wanders can give, and what
 * is added must look like a neighbour of theirs. Where one is not enough a second is
 * tried before both are judged.
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
  let last = chosen;
  let result = chosen;
  for (let added = 0; added < most && last.misfit > suspicious; added++) {
    const next = withOneMore(window, base, kinds);
    if (next === undefined) break;
    const { best, full } = next;
    const explains = full.misfit < mostMisfit;
    if (explains ? !isConvincing(window, result, full) : !(full.misfit < leastGain * last.misfit)) break;
    base = best;
    last = full;
    if (explains) result = full;
  }
  return result;
}

/** The fit with the one suspect more that helps most, and the same with the best shapes. */
function withOneMore(
  window: FitWindow,
  base: CurveFit,
  kinds: readonly CurveKind[],
): { readonly best: CurveFit; readonly full: CurveFit } | undefined {
  let best: CurveFit | undefined;
  for (const extra of suspects(window, base)) {
    const curves = [...base.curves, extra].sort((a, b) => a.apex - b.apex);
    const trial = fitCurves(window, curves);
    if (trial === undefined) continue;
    if (best === undefined || trial.squares < best.squares) best = trial;
  }
  return best && { best, full: chooseCurves(window, best, kinds) };
}

/** Whether the evidence demands what was added. */
function isConvincing(window: FitWindow, without: CurveFit, fit: CurveFit): boolean {
  const { misfit, squares, curves } = fit;
  const fall = (without.squares - squares) / Math.max(1, misfit * misfit) / window.colour;
  if (!(misfit < leastGain * without.misfit && fall > leastFall)) return false;
  const owned = byNearest(curves);
  return owned.every((curve) => (curve.peak === -1 ? isLikely(window, curve, owned) : heightOf(curve) > 0));
}

/** Whether a curve may be a peak beside the others. */
function isLikely(window: FitWindow, curve: Curve, curves: readonly Curve[]): boolean {
  const apex = apexOf(curve);
  const others = curves.filter((other) => other !== curve);
  const distance = (other: Curve): number => Math.abs(apexOf(other) - apex);
  const nearest = (some: readonly Curve[]): Curve => some.reduce((a, b) => (distance(a) < distance(b) ? a : b));
  const near = nearest(others);
  const seen = nearest(others.filter((other) => other.peak !== -1));
  const beneath = new Float64Array(1);
  for (const other of others) addCurve({ ...other, sign: 1 }, Float64Array.of(apex), 1, beneath);
  const height = heightOf(curve);
  const apart = distance(near) / sigmaOf(near);
  const width = sigmaOf(curve) / sigmaOf(seen);
  return (
    height > Math.max(leastHeight * window.noise, leastStanding * beneath[0]!) &&
    areaOf(curve) > leastShare * areaOf(near) &&
    apart > leastApart &&
    apart < mostApart &&
    width > leastWidth &&
    width < mostWidth
  );
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
