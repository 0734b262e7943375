import { addCurve, curveFor, fitCurves, type Curve, type CurveFit } from './curve-fit.js';
import { curveRules, type CurveKind } from './curve-kinds.js';
import type { FitWindow } from './fit-window.js';

/** [-] Misfit with which a fit is good enough. */
export const goodFit = 1.4;
/** [-] What another kind of curve must leave of the squares to be taken. */
const leastGain = 0.75;
/** [-] What a kind with two parameters more is charged. */
const price = 1.05;
const mostRounds = 3;

/** [min] Apex of a curve. */
export function apexOf({ kind, parameters }: Curve): number {
  return curveRules[kind].family.mode(parameters, 0);
}

/** [signal unit] Height of a curve at its apex, above 0. */
export function heightOf({ kind, parameters }: Curve): number {
  const value = new Float64Array(1);
  const { family } = curveRules[kind];
  family.evaluate([family.mode(parameters, 0)], 0, 1, parameters, 0, value);
  return value[0]!;
}

/** [signal unit min] Area of a curve, above 0. */
export function areaOf({ kind, parameters }: Curve): number {
  return curveRules[kind].family.area(parameters, 0);
}

/** Standard deviation of a Gaussian of the same area and height. */
export function sigmaOf(curve: Curve): number {
  return areaOf(curve) / heightOf(curve) / 2.5066282746310002;
}

/** The curves, two at the most, under which most of the squares lie. */
export function worstCurves({ time, value, count, weight, middle, half }: FitWindow, fit: CurveFit): Set<number> {
  const parts = fit.curves.map((curve) => {
    const part = new Float64Array(count);
    addCurve(curve, time, count, part);
    return part;
  });
  const squares = parts.map(() => 0);
  for (let k = 0; k < count; k++) {
    let sum = fit.line[0] + (fit.line[1] * (time[k]! - middle)) / half;
    let top = 0;
    parts.forEach((part, i) => {
      sum += part[k]!;
      if (Math.abs(part[k]!) > Math.abs(parts[top]![k]!)) top = i;
    });
    const miss = (value[k]! - sum) * weight[k]!;
    squares[top]! += miss * miss;
  }
  const order = squares.map((_, i) => i).sort((a, b) => squares[b]! - squares[a]!);
  return new Set(order.slice(0, 2));
}

/** The same peak as another kind of curve. */
export function recast(curve: Curve, kind: CurveKind): Curve {
  const { peak, sign, apex, sigma } = curve;
  const fresh = curveFor(kind, peak, sign * heightOf(curve), apexOf(curve), sigmaOf(curve));
  return { ...fresh, apex, sigma };
}

/**
 * Exchanges kinds of curve, one peak at a time, while that takes a quarter of
 * the squares away: a tail that is not exponential would otherwise be taken out of
 * the peak that rides on it.
 */
export function chooseCurves(window: FitWindow, fit: CurveFit, kinds: readonly CurveKind[]): CurveFit {
  let chosen = fit;
  for (let round = 0; round < mostRounds && chosen.misfit > goodFit; round++) {
    let best = chosen;
    let least = chosen.squares * leastGain;
    const blamed = worstCurves(window, chosen);
    chosen.curves.forEach((curve, i) => {
      if (!blamed.has(i)) return;
      for (const kind of kinds) {
        if (kind === curve.kind) continue;
        const trial = fitCurves(
          window,
          chosen.curves.map((c, k) => (k === i ? recast(c, kind) : c)),
          'trial',
        );
        if (trial === undefined) continue;
        const charged = trial.squares * (curveRules[kind].family.parameters.length > 4 ? price : 1);
        if (charged < least) [best, least] = [trial, charged];
      }
    });
    if (best === chosen) break;
    chosen = fitCurves(window, best.curves) ?? best;
  }
  return chosen;
}
