import { penalisedWork, quantileInPlace, solvePenalised, type Workspace } from '../numeric/index.js';
import { centreOf, noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';
import type { Baseline } from './baseline.js';

/** A stretch of time. */
export interface Interval {
  /** [min] Start. */
  readonly from: number;
  /** [min] End. */
  readonly to: number;
}

/** A fitted baseline and how it was chosen. */
export interface FittedBaseline {
  readonly baseline: Baseline;
  /** [-] Stiffness that was chosen, in knots to the fourth power. */
  readonly stiffness: number;
  /** [-] Effective number of parameters. */
  readonly parameters: number;
  /** [min] Distance of two knots. */
  readonly knotDistance: number;
  /** [signal unit] Scatter of the block means about it. */
  readonly scatter: number;
  /** [-] Share of the run that was free to fit. */
  readonly free: number;
}

/** Knots wanted at least and at most. */
const fewestKnots = 48;
const mostKnots = 512;
const manyKnots = 32768;
/** [knots] Beyond this length without data the baseline runs straight instead of keeping its curvature. */
const tension = 12;
/** [-] Mean residual of three blocks over their noise from which the line is too stiff there. */
const misfit = 4;
/** [-] Factor between the stiffnesses tried. */
const stiffnessStep = 5;

/**
 * Lays a baseline through the free stretches: means of short blocks, joined by a
 * penalised spline whose stiffness minimises the generalised cross-validation
 * score of Craven and Wahba, Numer. Math. 31 (1979) 377-403 (from memory), between
 * a bend of about `widest` and a straight line. Blocks that stay off the line are
 * weighted down twice (biweight), so that what was overlooked pulls little.
 */
export function fitBaseline(
  pyramid: Pyramid,
  noise: ScaleNoise,
  avoid: readonly Interval[],
  breaks: readonly number[],
  width: number,
  bend: number,
  workspace: Workspace,
): FittedBaseline {
  const level = knotLevel(pyramid, width);
  const count = pyramid.levels[level]!.length;
  const y = workspace.take('baseline y', count);
  const w = workspace.take('baseline w', count);
  const joined = workspace.take('baseline joined', count).fill(1);
  const free = fillBlocks(pyramid, level, avoid, y, w);
  const distance = pyramid.step * 2 ** level;
  for (const t of breaks) {
    const i = Math.floor((t - centreOf(pyramid, level, 0)) / distance);
    if (i >= 0 && i < count - 1) joined[i] = 0;
  }
  const line = straightLine(y, w, count);
  const z = workspace.take('baseline z', count);
  const robust = workspace.take('baseline robust', count);
  robust.set(w);
  const work = penalisedWork(count);
  for (let i = 0; i < count; i++) y[i] = y[i]! - (line.at + line.slope * i);
  // A bend may not be sharper than a few peak widths, or it would climb into the peaks.
  const softest = Math.max(2, bend / distance) ** 4;
  let stiffness = softest;
  let parameters = 0;
  let scatter = 0;
  const score = (candidate: number): number => {
    solvePenalised(y, robust, joined, count, candidate, candidate / (tension * tension), z, work);
    let squares = 0;
    let trace = 0;
    let sum = 0;
    for (let i = 0; i < count; i++) {
      const r = y[i]! - z[i]!;
      squares += robust[i]! * r * r;
      trace += robust[i]! * work.inverse[i]!;
      sum += robust[i]!;
    }
    parameters = trace;
    scatter = Math.sqrt(squares / Math.max(sum - trace, 0.2 * sum, 1e-12));
    const left = sum - 1.2 * trace;
    return left > 0.05 * sum ? (sum * squares) / (left * left) : Infinity;
  };
  // The whole range once, in wide steps; afterwards only downhill from where it was.
  const stiffest = Math.max(softest, count ** 4);
  const choose = (first: boolean) => {
    let best = first ? softest : stiffness;
    let bestScore = score(best);
    if (first) {
      for (let candidate = softest * stiffnessStep ** 2; candidate <= stiffest; candidate *= stiffnessStep ** 2) {
        const value = score(candidate);
        if (value < bestScore) [best, bestScore] = [candidate, value];
      }
    }
    for (const factor of [stiffnessStep, 1 / stiffnessStep]) {
      for (let candidate = best * factor; candidate >= softest && candidate <= stiffest; candidate *= factor) {
        const value = score(candidate);
        if (!(value < bestScore)) break;
        [best, bestScore] = [candidate, value];
      }
    }
    stiffness = best;
    score(best);
  };
  const noiseOf = (i: number) => noiseAt(noise, level, i / count) / 1.2247;
  choose(true);
  for (let round = 0; round < 4 && loosen(y, z, w, joined, count, noiseOf); round++) choose(false);
  for (let round = 0; round < 2; round++) {
    const spread = residualSpread(y, z, w, 0, count, workspace);
    for (let i = 0; i < count; i++) {
      // Where a whole stretch is off, the line is to blame and not the blocks.
      const local = residualSpread(y, z, w, Math.max(0, i - 8), Math.min(count, i + 9), workspace);
      const scale = 5 * Math.max(spread, local);
      const r = scale > 0 ? (y[i]! - z[i]!) / scale : 0;
      const keep = r * r < 1 ? (1 - r * r) * (1 - r * r) : 0;
      robust[i] = Math.max(w[i]! * keep, w[i]! > 0 ? 1e-6 : 1e-9);
    }
    if (round === 0) choose(false);
  }
  solvePenalised(y, robust, joined, count, stiffness, stiffness / (tension * tension), z, work);
  const time: number[] = [];
  const value: number[] = [];
  const uncertainty: number[] = [];
  const at = (i: number) => z[i]! + line.at + line.slope * i;
  const push = (t: number, v: number, u: number) => {
    time.push(t);
    value.push(v);
    uncertainty.push(u);
  };
  const sigma = (i: number) => scatter * Math.sqrt(Math.max(work.inverse[i]!, 0));
  const firstCentre = centreOf(pyramid, level, 0);
  push(firstCentre - distance / 2, at(0) - (at(1) - at(0)) / 2, sigma(0));
  for (let i = 0; i < count; i++) {
    const centre = firstCentre + i * distance;
    // A step of the baseline is two knots close together.
    push(centre, at(i), sigma(i));
    if (i < count - 1 && joined[i] === 0) {
      const t = breaks.find((b) => b >= centre && b < centre + distance) ?? centre + distance / 2;
      push(Math.max(t - 0.02 * distance, centre + 0.01 * distance), at(i), sigma(i));
      push(Math.min(t + 0.02 * distance, centre + 0.99 * distance), at(i + 1), sigma(i + 1));
    }
  }
  const last = firstCentre + (count - 0.5) * distance;
  push(last, at(count - 1) + (at(count - 1) - at(count - 2)) / 2, sigma(count - 1));
  const end = pyramid.start + pyramid.step * (pyramid.levels[0]!.length - 1);
  if (end > last) push(end, value.at(-1)!, sigma(count - 1));
  return {
    baseline: { id: 'run', kind: 'knots', time, value, uncertainty },
    stiffness,
    parameters,
    knotDistance: distance,
    scatter,
    free,
  };
}

/**
 * Lets the line bend more where the free blocks of a stretch stay off it, all to
 * one side, by far more than their noise: the end of a gradient is sharper than
 * the drift of the rest. Gives whether anything was loosened.
 */
function loosen(
  y: Float64Array,
  z: Float64Array,
  w: Float64Array,
  joined: Float64Array,
  count: number,
  noiseOf: (i: number) => number,
): boolean {
  let loosened = false;
  for (let i = 0; i < count; i++) {
    let sum = 0;
    let weight = 0;
    for (let k = Math.max(0, i - 1); k <= Math.min(count - 1, i + 1); k++) {
      sum += w[k]! * (y[k]! - z[k]!);
      weight += w[k]!;
    }
    if (weight < 1.5 || Math.abs(sum) < misfit * noiseOf(i) * weight) continue;
    for (let k = Math.max(0, i - 3); k <= Math.min(count - 2, i + 2); k++) {
      const limit = 0.01;
      if (joined[k]! > limit) {
        joined[k] = Math.max(limit, joined[k]! * 0.4);
        loosened = true;
      }
    }
  }
  return loosened;
}

/** Level whose means are about as long as the width, within the wanted number of knots. */
function knotLevel(pyramid: Pyramid, width: number): number {
  let level = 0;
  const { levels, step } = pyramid;
  while (
    level + 1 < levels.length &&
    levels[level + 1]!.length >= fewestKnots &&
    (levels[level]!.length > mostKnots || step * 2 ** (level + 1) <= width) &&
    // A long run of narrow peaks needs more knots than a picture has columns.
    (levels[level]!.length <= manyKnots ? step * 2 ** level < 2.5 * width : true)
  ) {
    level++;
  }
  return level;
}

/** Means and weights of the blocks outside the avoided stretches; gives the free share. */
function fillBlocks(
  pyramid: Pyramid,
  level: number,
  avoid: readonly Interval[],
  y: Float64Array,
  w: Float64Array,
): number {
  const finer = Math.max(0, level - 2);
  const parts = 2 ** (level - finer);
  const means = pyramid.levels[finer]!;
  const half = (pyramid.step * 2 ** finer) / 2;
  let a = 0;
  let total = 0;
  const sorted = [...avoid].sort((p, q) => p.from - q.from);
  const merged: { from: number; to: number }[] = [];
  for (const { from, to } of sorted) {
    const last = merged.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else merged.push({ from, to });
  }
  for (let i = 0; i < y.length; i++) {
    let sum = 0;
    let kept = 0;
    for (let k = 0; k < parts; k++) {
      const centre = centreOf(pyramid, finer, i * parts + k);
      while (a < merged.length && merged[a]!.to <= centre - half) a++;
      if (a < merged.length && merged[a]!.from < centre + half) continue;
      sum += means[i * parts + k]!;
      kept++;
    }
    y[i] = kept > 0 ? sum / kept : 0;
    w[i] = kept / parts;
    total += w[i]!;
  }
  return total / y.length;
}

/** Weighted least-squares line through the blocks; the mean when it is not determined. */
function straightLine(y: Float64Array, w: Float64Array, count: number): { at: number; slope: number } {
  let sum = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < count; i++) {
    sum += w[i]!;
    sx += w[i]! * i;
    sy += w[i]! * y[i]!;
  }
  if (sum <= 0) return { at: 0, slope: 0 };
  const mx = sx / sum;
  const my = sy / sum;
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < count; i++) {
    xx += w[i]! * (i - mx) * (i - mx);
    xy += w[i]! * (i - mx) * (y[i]! - my);
  }
  const slope = xx > 0 ? xy / xx : 0;
  return { at: my - slope * mx, slope };
}

/** Robust standard deviation of the residuals of the blocks that have weight. */
function residualSpread(
  y: Float64Array,
  z: Float64Array,
  w: Float64Array,
  from: number,
  to: number,
  workspace: Workspace,
): number {
  const scratch = workspace.take('baseline residuals', to - from);
  let kept = 0;
  for (let i = from; i < to; i++) if (w[i]! > 0.2) scratch[kept++] = Math.abs(y[i]! - z[i]!);
  return kept === 0 ? 0 : quantileInPlace(scratch, kept, 0.5) / 0.6745;
}
