import { emgFamily } from '../shapes/index.js';
import { areaOf, apexOf, sigmaOf } from './choose-curves.js';
import type { Curve, CurveFit } from './curve-fit.js';
import { curveRules } from './curve-kinds.js';
import {
  departure,
  dot,
  influenceOf,
  linearise,
  variancesOf,
  type Expected,
  type Linearised,
  type MeanVariances,
} from './fit-influence.js';
import { slackOfBaseline, type FitWindow } from './fit-window.js';
import type { AreaUncertaintyParts, FittedCurve } from './plan.js';

/** What is expected of a departure from the fit: hardly any, or in a share of the peaks one of another size. */
const slowTail: Expected = { usual: 0.0007, strong: 0.08, share: 0.2 };
const excess: Expected = { usual: 0.0003, strong: 0.012, share: 0.2 };
/** In standard uncertainties of the baseline. */
const bend: Expected = { usual: 0.7, strong: 6, share: 0.2 };
/** [-] Time constant of a slow tail in standard deviations; beside a curve that has one already, of a slower one. */
const slow = 4;
const slower = 9;

/** [-] Uncertainty of what a curve holds outside the limits, over it, where it counts. */
const unsureOutside = 0.5;
/** [-] Uncertainty of the part of a peak that lies under its neighbours, over it: there shapes decide, not readings. */
const unsureBeneath = 0.05;

/** Between which limits [min] areas are taken, and how. */
export interface Limits {
  readonly start: number;
  readonly end: number;
  /** [signal unit] Noise beside which the curves are weighed; 0 when the signal alone counts. */
  readonly noise: number;
  /** Whether the record cuts a peak off, so that what lies outside does not count. */
  readonly isCut: boolean;
}

/**
 * [signal unit s] One standard uncertainty of the area of each curve of a fit,
 * as what the peak gets of the signal between the limits, in parts.
 *
 * The area is linear in the readings near the solution: the influence of each
 * mean on it follows from the derivatives and the covariance of the fit, and so
 * does what noise, baseline and neighbours do to it (law of propagation, JCGM
 * 100:2008, 5.2). What a shape or a baseline may be beyond the fit is a quantity
 * with an expectation of its own: a slow tail, an excess, a bend; each counts with
 * what the residuals leave of it. How large these usually are is our own figure, chosen on simulated runs.
 *
 * @returns Nothing for a curve when it cannot be known.
 */
export function areaDeviations(
  fit: CurveFit,
  window: FitWindow,
  { start, end, noise: beside, isCut }: Limits,
): (AreaUncertaintyParts | undefined)[] {
  const lines = linearise(fit, window);
  if (lines === undefined) return fit.curves.map(() => undefined);
  const variances = variancesOf(lines, window);
  const scale = window.slack / slackOfBaseline;
  const bow = window.time.subarray(0, window.count).map((t) => {
    const x = (t - window.middle) / window.half;
    return scale * (x * x - 1 / 3);
  });
  const bent = departure(lines, window, variances, bow, bend);
  const odd = fit.curves.map((curve, c) => {
    const seen = { own: lines.curves[c]!, apex: apexOf(curve), sigma: sigmaOf(curve), area: areaOf(curve) };
    return [
      departure(lines, window, variances, slowTailOf(curve, seen, window), slowTail),
      departure(lines, window, variances, excessOf(seen, window), excess),
    ];
  });
  const alone = fit.curves.length === 1;
  const isWhole = beside > 0 && !isCut;
  const reach = { start, end, noise: beside, whole: isWhole ? fit.curves.map(areaSlopes) : undefined };
  const nothing = new Float64Array(window.count);
  return fit.curves.map((_, c) => {
    const influence = influenceOf(lines, window, c, reach);
    const whole = alone
      ? variance(influence.own, influence.all, variances)
      : variance(nothing, influence.all, variances);
    const noise = Math.min(whole, dot(influence.own, influence.own) * variances.noise);
    const open = Math.max(0, influence.line * misfitOf(variances, window));
    const line = alone ? whole - noise : Math.min(open, whole - noise);
    let shape = square((isWhole ? unsureOutside : 1) * outside(fit.curves[c]!, influence.inside));
    for (const some of odd) for (const d of some) shape += d.size * square(dot(influence.all, d.by));
    const parts = {
      noise: Math.sqrt(noise),
      baseline: Math.sqrt(line + influence.expected + bent.size * square(dot(influence.all, bent.by))),
      division: alone
        ? undefined
        : Math.sqrt(Math.max(0, whole - noise - line) + square(unsureBeneath * beneath(lines, c))),
      shape: Math.sqrt(shape),
    };
    const { division, ...others } = parts;
    const all = [...Object.values(others), division ?? 0];
    if (!all.every((v) => Number.isFinite(v))) return undefined;
    return division === undefined ? others : { ...others, division };
  });
}

/** [signal unit s over parameter] Derivatives of the area of a curve, with its sign, by its parameters. */
function areaSlopes({ kind, sign, parameters }: Curve): number[] {
  const { family } = curveRules[kind];
  return parameters.map((value, q) => {
    const delta = 1e-4 * (Math.abs(value) || 1);
    const moved = (way: 1 | -1): number =>
      family.area([...parameters.slice(0, q), value + way * delta, ...parameters.slice(q + 1)], 0);
    return (sign * 60 * (moved(1) - moved(-1))) / (2 * delta);
  });
}

function square(x: number): number {
  return x * x;
}

/** Variance of an area by all the influence of the means; what the curves do not follow counts where it is not `own`. */
function variance(own: Float64Array, all: Float64Array, { noise, each }: MeanVariances): number {
  let total = 0;
  for (let k = 0; k < all.length; k++) {
    const fit = all[k]! - own[k]!;
    total += (all[k]! * all[k]! - fit * fit) * noise + fit * fit * each[k]!;
  }
  return Math.max(0, total);
}

/** [-] Mean variance over that of the noise. */
function misfitOf({ each }: MeanVariances, { noise }: FitWindow): number {
  return each.reduce((a, b) => a + b, 0) / each.length / (noise * noise);
}

/** [signal unit s] What of a curve lies outside its limits. */
function outside(curve: Curve, inside: number): number {
  return 60 * areaOf(curve) - inside;
}

/** [signal unit s] Of a curve, what the other curves would have of it by their share. */
function beneath({ curves, width }: Linearised, c: number): number {
  let sum = 0;
  for (let k = 0; k < width.length; k++) {
    let all = 0;
    for (const curve of curves) all += Math.abs(curve[k]!);
    const own = Math.abs(curves[c]![k]!);
    if (all > 0) sum += width[k]! * own * (1 - own / all);
  }
  return sum;
}

/** What departures are made from. */
interface Drawn {
  /** [signal unit] The curve, with its sign. */
  readonly own: Float64Array;
  readonly apex: number;
  readonly sigma: number;
  readonly area: number;
}

/** A part of the area moved into a tail that is slow. */
function slowTailOf(
  { kind, sign }: Curve,
  { own, apex, sigma, area }: Drawn,
  { time, count }: FitWindow,
): Float64Array {
  const out = new Float64Array(count);
  emgFamily.evaluate(
    time,
    0,
    count,
    [sign * area, apex, sigma, (kind === 'slow tail' ? slower : slow) * sigma],
    0,
    out,
  );
  for (let k = 0; k < count; k++) out[k]! -= own[k]!;
  return out;
}

/** The curve times the fourth Hermite polynomial: flatter flanks and a sharper top of the same area. */
function excessOf({ own, apex, sigma }: Drawn, { time, count }: FitWindow): Float64Array {
  const out = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const u = (time[k]! - apex) / sigma;
    const v = u * u;
    out[k] = v > 16 ? 0 : own[k]! * (v * v - 6 * v + 3);
  }
  return out;
}

/** The uncertainty of an area and its parts, as a fitted curve has them. */
export function uncertaintyOf(
  parts: AreaUncertaintyParts | undefined,
): Pick<FittedCurve, 'areaUncertainty' | 'areaUncertaintyParts'> {
  if (parts === undefined) return {};
  const { noise, baseline, division = 0, shape = 0 } = parts;
  const areaUncertainty = Math.sqrt(noise * noise + baseline * baseline + division * division + shape * shape);
  return areaUncertainty > 0 ? { areaUncertainty, areaUncertaintyParts: parts } : {};
}
