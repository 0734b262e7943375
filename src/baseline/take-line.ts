import type { Workspace } from '../numeric/index.js';
import type { DecisionGrid } from '../signal/index.js';
import type { Interval } from './block-means.js';

/** A straight line. */
export interface Line {
  /** [min] Where it has the level `at`. */
  readonly time: number;
  /** [signal unit] Level there. */
  readonly at: number;
  /** [signal unit per min] Slope. */
  readonly slope: number;
}

/**
 * Takes the least-squares line through the free points off a grid. A block that is
 * partly avoided then has its mean where its centre is: on a slope it would not.
 *
 * @param avoid - In order of time, not overlapping; leaves at least one point free.
 */
export function takeLine(
  grid: DecisionGrid,
  avoid: readonly Interval[],
  workspace: Workspace,
): { readonly grid: DecisionGrid; readonly line: Line } {
  const { start, step, count, values } = grid;
  // Positions from the middle of the run keep the digits of long records.
  const middle = 0.5 * (count - 1);
  const level = values[0]!;
  let free = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let a = 0;
  for (let i = 0; i < count; i++) {
    const t = start + i * step;
    while (a < avoid.length && avoid[a]!.to < t) a++;
    if (a < avoid.length && avoid[a]!.from <= t) continue;
    const x = i - middle;
    const y = values[i]! - level;
    free++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const n = Math.max(free, 1);
  const spread = sxx - (sx * sx) / n;
  const slope = spread > 0 ? (sxy - (sx * sy) / n) / spread : 0;
  const at = level + sy / n - (slope * sx) / n;
  const left = workspace.take('less its line', count);
  for (let i = 0; i < count; i++) left[i] = values[i]! - (at + slope * (i - middle));
  return { grid: { ...grid, values: left }, line: { time: start + middle * step, at, slope: slope / step } };
}
