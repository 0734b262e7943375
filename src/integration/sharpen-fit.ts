import { recast } from './choose-curves.js';
import { fitCurves, type CurveFit } from './curve-fit.js';
import { curveRules, type CurveKind } from './curve-kinds.js';
import { tightened, type FitWindow } from './fit-window.js';

/** [noise²] What another kind of curve must take off the squares, colour counted, to be taken. */
const leastGain = 8;
/** [noise²] What a kind with two parameters more is charged. */
const price = 6;
/** [-] Misfit up to which curves may be held to the signal this closely. */
const mostMisfit = 2;
const mostRounds = 4;

/**
 * Fits once more, with curves that must follow the signal more closely, and takes for
 * each peak the kind of curve for which the evidence speaks: a shape that is nearly
 * right is enough to see a peak, not to tell its area from its neighbour's.
 *
 * Evidence is the fall of the squares in units of the noise, divided by the misfit
 * that is left and by how much the noise wanders over the length of a shape, so that
 * a wandering baseline speaks for no shape.
 */
export function sharpenFit(window: FitWindow, fit: CurveFit, kinds: readonly CurveKind[]): CurveFit {
  const tight = tightened(window);
  const first = fitCurves(tight, fit.curves);
  if (first === undefined) return fit;
  let chosen = first;
  for (let round = 0; round < mostRounds; round++) {
    let best = chosen;
    let most = leastGain;
    const charged = chargedSquares(chosen);
    chosen.curves.forEach((curve, i) => {
      for (const kind of kinds) {
        if (kind === curve.kind) continue;
        const trial = fitCurves(
          tight,
          chosen.curves.map((c, k) => (k === i ? recast(c, kind) : c)),
        );
        if (trial === undefined) continue;
        const colour = kind === 'slow tail' ? Math.max(window.slowColour, window.colour) : window.colour;
        const gain = (charged - chargedSquares(trial)) / Math.max(1, trial.misfit * trial.misfit) / colour;
        if (gain > most) [best, most] = [trial, gain];
      }
    });
    if (best === chosen) break;
    chosen = best;
  }
  // A shape of no formula is followed closely nowhere: there the curves must not be held to it.
  return chosen.misfit < mostMisfit ? chosen : (fitCurves(window, chosen.curves) ?? fit);
}

function chargedSquares({ curves, squares }: CurveFit): number {
  let charged = squares;
  for (const { kind } of curves) if (curveRules[kind].family.parameters.length > 4) charged += price;
  return charged;
}
