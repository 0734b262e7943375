import type { Workspace } from '../numeric/index.js';
import type { DecisionGrid } from './decision-grid.js';

/**
 * Means of 1, 2, 4, 8 ... grid points: the signal at every coarseness, for the
 * price of two passes.
 */
export interface Pyramid {
  /** [min] Time of the first grid point. */
  readonly start: number;
  /** [min] Distance of two grid points. */
  readonly step: number;
  /** [-] See {@link DecisionGrid.coarseness}. */
  readonly coarseness: readonly number[];
  /** See {@link DecisionGrid.gaps}; in points of the finest level. */
  readonly gaps: readonly (readonly [number, number])[];
  /** Level L holds means of 2^L points; a remainder at the end is left out. */
  readonly levels: readonly Float64Array[];
}

/** Coarsest level still has at least this many means. */
const fewest = 24;

/** Builds the means, level by level. */
export function buildPyramid(grid: DecisionGrid, workspace: Workspace): Pyramid {
  const levels = [grid.values];
  for (let finer = grid.values; finer.length >= 2 * fewest;) {
    const count = finer.length >> 1;
    const coarser = workspace.take(`pyramid ${levels.length}`, count);
    for (let i = 0; i < count; i++) coarser[i] = 0.5 * (finer[2 * i]! + finer[2 * i + 1]!);
    levels.push(coarser);
    finer = coarser;
  }
  return { start: grid.start, step: grid.step, coarseness: grid.coarseness, gaps: grid.gaps, levels };
}

/** [min] Length of one mean of a level. */
export function meanLength(pyramid: Pyramid, level: number): number {
  return pyramid.step * (1 << level);
}

/** The coarsest level from `finest` on whose means are not longer than `most` [min]; `finest` when none is. */
export function levelWithin(pyramid: Pyramid, finest: number, most: number): number {
  let level = finest;
  while (level + 1 < pyramid.levels.length && meanLength(pyramid, level + 1) <= most) level++;
  return level;
}

/** [min] Time of the centre of mean `i` of a level. */
export function centreOf(pyramid: Pyramid, level: number, i: number): number {
  const width = 1 << level;
  return pyramid.start + pyramid.step * (i * width + 0.5 * (width - 1));
}

/** Index on a level of the mean that covers a time, kept inside the level. */
export function indexAt(pyramid: Pyramid, level: number, t: number): number {
  const i = Math.floor((t - pyramid.start) / pyramid.step + 0.5);
  const at = Math.floor(i / (1 << level));
  const last = pyramid.levels[level]!.length - 1;
  return at < 0 ? 0 : at > last ? last : at;
}

/** Whether means `from` to `to` of a level, ends included, hold points made up in a gap. */
export function touchesGap(pyramid: Pyramid, level: number, from: number, to: number): boolean {
  const width = 1 << level;
  return pyramid.gaps.some(([a, b]) => a < (to + 1) * width && b >= from * width);
}
