import { apexOf, recast, sigmaOf } from './choose-curves.js';
import { addCurve, fitCurves, type Curve, type CurveFit } from './curve-fit.js';
import { curveRules, type CurveKind } from './curve-kinds.js';
import { tightened, type FitWindow } from './fit-window.js';

/** [noise²] What another kind of curve must take off the squares, colour counted, to be taken. */
const leastGain = 8;
/** [noise²] What a kind with two parameters more is charged. */
const price = 6;
/** [-] Part of the squares under a curve that must be smooth for another kind to be tried: of white noise it is a fifth. */
const leastSmooth = 0.25;
/** [-] Misfit up to which curves may be held to the signal this closely. */
const mostMisfit = 2;
const mostRounds = 4;
/** [sigma] How far before the first and after the last of three neighbours the signal speaks for their kinds. */
const before = 5;
const after = 8;

/**
 * Takes for each peak the kind of curve for which the evidence speaks, with curves that
 * must follow the signal closely: a shape that is nearly
 * right is enough to see a peak, not to tell its area from its neighbour's.
 *
 * Evidence is the fall of the squares in units of the noise, divided by the misfit
 * that is left and by how much the noise wanders over the length of a shape, so that
 * a wandering baseline speaks for no shape.
 *
 * @param first - A fit to the tightened window.
 */
export function sharpenFit(window: FitWindow, first: CurveFit, kinds: readonly CurveKind[]): CurveFit {
  const tight = tightened(window);
  let chosen = first;
  for (let round = 0; round < mostRounds; round++) {
    let best: readonly Curve[] | undefined;
    let most = leastGain;
    const smooth = smoothParts(tight, chosen);
    chosen.curves.forEach((curve, i) => {
      if (!(smooth[i]! > leastSmooth)) return;
      const part = neighbourhood(tight, chosen, i);
      if (part === undefined) return;
      const charged = chargedSquares(part.fit);
      for (const kind of kinds) {
        if (kind === curve.kind) continue;
        const asKind = part.fit.curves.map((c, k) => (k === part.place ? recast(c, kind) : c));
        const trial = fitCurves(part.window, asKind, 'trial');
        if (trial === undefined) continue;
        // What a shape has of parameters more follows what wanders over the whole of a peak.
        const colour = isLong(kind) ? Math.max(window.slowColour, window.colour) : window.colour;
        const gain = (charged - chargedSquares(trial)) / Math.max(1, trial.misfit * trial.misfit) / colour;
        if (gain > most) [best, most] = [[...part.head, ...trial.curves, ...part.tail], gain];
      }
    });
    const next = best && fitCurves(tight, best);
    if (next === undefined || !(chargedSquares(next) < chargedSquares(chosen))) break;
    chosen = next;
  }
  // A shape of no formula is followed closely nowhere: there the curves must not be held to it.
  return chosen.misfit < mostMisfit ? chosen : (fitCurves(window, chosen.curves) ?? chosen);
}

function chargedSquares({ curves, squares }: CurveFit): number {
  let charged = squares;
  for (const { kind } of curves) if (isLong(kind)) charged += price;
  return charged;
}

function isLong(kind: CurveKind): boolean {
  return curveRules[kind].family.parameters.length > 4;
}

/** Part of the squares under each curve that is left when five neighbouring residuals are averaged. */
function smoothParts(window: FitWindow, fit: CurveFit): number[] {
  const { time, value, count, weight, middle, half } = window;
  const parts = fit.curves.map((curve) => valuesOf(window, [curve]));
  const rest = new Float64Array(count);
  const owner = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    let sum = fit.line[0] + (fit.line[1] * (time[k]! - middle)) / half;
    for (let i = 0; i < parts.length; i++) {
      sum += parts[i]![k]!;
      if (Math.abs(parts[i]![k]!) > Math.abs(parts[owner[k]!]![k]!)) owner[k] = i;
    }
    rest[k] = (value[k]! - sum) * weight[k]!;
  }
  const smooth = parts.map(() => 0);
  const all = parts.map(() => 0);
  for (let k = 0; k < count; k++) {
    const from = Math.max(0, k - 2);
    const to = Math.min(count - 1, k + 2);
    let sum = 0;
    for (let j = from; j <= to; j++) sum += rest[j]!;
    const mean = sum / (to - from + 1);
    smooth[owner[k]!]! += mean * mean;
    all[owner[k]!]! += rest[k]! * rest[k]!;
  }
  return smooth.map((sum, i) => (all[i]! > 0 ? sum / all[i]! : 0));
}

interface Neighbourhood {
  readonly window: FitWindow;
  readonly fit: CurveFit;
  /** Which of its curves is the one it is about. */
  readonly place: number;
  readonly head: readonly Curve[];
  readonly tail: readonly Curve[];
}

/** A curve with its neighbours, the others taken off: the kind of one hardly touches what is three peaks away. */
function neighbourhood(window: FitWindow, fit: CurveFit, i: number): Neighbourhood | undefined {
  const { curves, line } = fit;
  if (curves.length <= 3) return { window, fit, place: i, head: [], tail: [] };
  const from = Math.max(0, Math.min(i - 1, curves.length - 3));
  const [head, own, tail] = [curves.slice(0, from), curves.slice(from, from + 3), curves.slice(from + 3)];
  const { time, value, count, weight, middle, half } = window;
  const others = valuesOf(window, [...head, ...tail]);
  const begin = Math.min(...own.map((c) => apexOf(c) - before * sigmaOf(c)));
  const end = Math.max(...own.map((c) => apexOf(c) + after * sigmaOf(c)));
  let first = 0;
  while (first < count && time[first]! < begin) first++;
  let last = count - 1;
  while (last > first && time[last]! > end) last--;
  const kept = last - first + 1;
  const cut: FitWindow = {
    ...window,
    time: time.slice(first),
    value: value
      .subarray(first, last + 1)
      .map((y, k) => y - others[first + k]! - line[0] - (line[1] * (time[first + k]! - middle)) / half),
    weight: weight.subarray(first, last + 1),
    count: kept,
  };
  const alone = fitCurves(cut, own, 'trial');
  return alone && { window: cut, fit: alone, place: i - from, head, tail };
}

function valuesOf({ time, count }: FitWindow, curves: readonly Curve[]): Float64Array {
  const values = new Float64Array(count);
  for (const curve of curves) addCurve(curve, time, count, values);
  return values;
}
