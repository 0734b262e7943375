import { joinStretches, type Workspace } from '../numeric/index.js';
import { centreOf, meanLength, type Pyramid } from '../signal/index.js';

/** A stretch of time. */
export interface Interval {
  /** [min] Start. */
  readonly from: number;
  /** [min] End. */
  readonly to: number;
}

/** Means of equal blocks outside the avoided stretches, less a straight line. */
export interface BlockMeans {
  /** Level of the pyramid whose means are the blocks. */
  readonly level: number;
  readonly count: number;
  /** [min] Centre of the first block, and distance of two. */
  readonly first: number;
  readonly distance: number;
  /** [signal unit] Mean of each block less the line. */
  readonly y: Float64Array;
  /** [-] Share of each block that is free. */
  readonly w: Float64Array;
  /** [signal unit] The line at the first centre, and its rise per block. */
  readonly line: { readonly at: number; readonly slope: number };
}

/** Knots wanted at least, at most, and at most in a long run of narrow peaks. */
const fewestKnots = 48;
const mostKnots = 512;
const manyKnots = 32768;

/** Takes the means. A block across a break says nothing: it holds two levels. */
export function takeBlockMeans(
  pyramid: Pyramid,
  avoid: readonly Interval[],
  breaks: readonly number[],
  width: number,
  workspace: Workspace,
): BlockMeans {
  const level = knotLevel(pyramid, width);
  const count = pyramid.levels[level]!.length;
  const distance = meanLength(pyramid, level);
  const first = centreOf(pyramid, level, 0);
  const y = workspace.take('baseline y', count);
  const w = workspace.take('baseline w', count);
  const offset = workspace.take('baseline offset', count);
  const taken = joinStretches([...avoid, ...breaks.map((t) => ({ from: t - distance / 2, to: t + distance / 2 }))]);
  const finer = Math.max(0, level - 2);
  const parts = 2 ** (level - finer);
  const means = pyramid.levels[finer]!;
  const half = meanLength(pyramid, finer) / 2;
  for (let i = 0, a = 0; i < count; i++) {
    let sum = 0;
    let moment = 0;
    let kept = 0;
    for (let k = 0; k < parts; k++) {
      const centre = centreOf(pyramid, finer, i * parts + k);
      while (a < taken.to.length && taken.to[a]! <= centre - half) a++;
      if (a < taken.to.length && taken.from[a]! < centre + half) continue;
      sum += means[i * parts + k]!;
      moment += k - (parts - 1) / 2;
      kept++;
    }
    y[i] = kept > 0 ? sum / kept : 0;
    w[i] = kept / parts;
    offset[i] = kept > 0 ? moment / (kept * parts) : 0;
  }
  const line = straightLine(y, w, offset);
  for (let i = 0; i < count; i++) y[i] = w[i]! > 0 ? y[i]! - (line.at + line.slope * (i + offset[i]!)) : 0;
  return { level, count, first, distance, y, w, line };
}

/** Level whose means are about as long as the width, within the wanted number of knots. */
function knotLevel({ levels, step }: Pyramid, width: number): number {
  let level = 0;
  while (
    level + 1 < levels.length &&
    levels[level + 1]!.length >= fewestKnots &&
    (levels[level]!.length > mostKnots || step * 2 ** (level + 1) <= width) &&
    (levels[level]!.length > manyKnots || step * 2 ** level < 2.5 * width)
  ) {
    level++;
  }
  return level;
}

/** Weighted least-squares line through the blocks; the mean when it is not determined. */
function straightLine(y: Float64Array, w: Float64Array, offset: Float64Array): { at: number; slope: number } {
  let sum = 0;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < y.length; i++) {
    if (!(w[i]! > 0)) continue;
    sum += w[i]!;
    mx += (w[i]! / sum) * (i + offset[i]! - mx);
    my += (w[i]! / sum) * (y[i]! - my);
  }
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < y.length; i++) {
    const x = i + offset[i]! - mx;
    xx += w[i]! * x * x;
    xy += w[i]! * x * (y[i]! - my);
  }
  const slope = xx > 0 ? xy / xx : 0;
  return { at: my - slope * mx, slope };
}
