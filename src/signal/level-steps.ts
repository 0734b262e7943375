import type { Workspace } from '../numeric/index.js';
import type { DecisionGrid } from './decision-grid.js';
import type { Edge } from './edges.js';

/** A lasting step of the level. */
export interface Step {
  /** [min] Where. */
  readonly at: number;
  /** [signal unit] Level after minus level before. */
  readonly rise: number;
}

/** Points on either side over which the levels are taken. */
const beside = 8;

/**
 * Takes lasting steps off the grid, so that what is looked for later sees one
 * level; the baseline gets them back at the end.
 */
export function levelSteps(
  grid: DecisionGrid,
  edges: readonly Edge[],
  workspace: Workspace,
): { readonly grid: DecisionGrid; readonly steps: readonly Step[] } {
  const lasting = edges.filter((e) => e.lasting);
  if (lasting.length === 0) return { grid, steps: [] };
  const { count, start, step } = grid;
  const values = workspace.take('level grid', count);
  values.set(grid.values);
  const mean = (from: number) => {
    let sum = 0;
    for (let i = from; i < from + beside; i++) sum += grid.values[i]!;
    return sum / beside;
  };
  const steps = lasting.map(({ at }) => {
    // The edge lies between points i and i + 1, and takes up to three.
    const i = Math.floor((at - start) / step);
    const rise = mean(Math.min(count - beside, i + 3)) - mean(Math.max(0, i - beside - 1));
    for (let k = i + 2; k < count; k++) values[k] = values[k]! - rise;
    for (const k of [i, i + 1]) values[k] = values[i - 1]! + ((values[i + 2]! - values[i - 1]!) * (k - i + 1)) / 3;
    return { at, rise };
  });
  return { grid: { ...grid, values }, steps };
}
