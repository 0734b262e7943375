import type { DecisionGrid } from './decision-grid.js';
import { noiseAt, type ScaleNoise } from './scale-noise.js';

/** A place where the level changes within three points, faster than its surroundings run. */
export interface Edge {
  /** [min] Middle of the change. */
  readonly at: number;
  /** [signal unit] Level after minus level before. */
  readonly jump: number;
  /** Whether the new level lasts: then it is a step of the baseline. */
  readonly lasting: boolean;
}

/** [-] Jump in curvature noise that an edge needs. */
const leastJump = 12;
/** [-] Jump over the sum of the runs of equal length before and after it. */
const leastRatio = 2.5;

/**
 * Finds sharp edges: steps of the level, and the sides of what a passing bubble
 * leaves. An edge lasts when the means of the two halves of the stretch after
 * it, and of the stretch before it, agree to a fifth of the jump.
 *
 * @param width - [min] Length of the stretches looked at on both sides.
 */
export function findEdges(grid: DecisionGrid, noise: ScaleNoise, width: number): Edge[] {
  const { values: y, count } = grid;
  const edges: Edge[] = [];
  let quietest = Infinity;
  for (const s of noise.local[0]!) quietest = Math.min(quietest, s);
  const least = leastJump * quietest;
  for (let i = 4; i < count - 5; i++) {
    const jump = y[i + 2]! - y[i - 1]!;
    if (jump < least && jump > -least) continue;
    const size = Math.abs(jump);
    if (size < leastJump * noiseAt(noise, 0, i / count)) continue;
    const beside = Math.abs(y[i - 1]! - y[i - 4]!) + Math.abs(y[i + 5]! - y[i + 2]!);
    if (size < leastRatio * beside) continue;
    const at = grid.start + (i + 0.5) * grid.step;
    const last = edges.at(-1);
    if (last !== undefined && at - last.at < 4.5 * grid.step) {
      if (Math.abs(last.jump) >= size) continue;
      edges.pop();
    }
    edges.push({ at, jump, lasting: lasts(y, i, jump, Math.max(12, Math.floor(width / grid.step))) });
  }
  return edges;
}

/** Whether the levels on both sides hold. */
function lasts(y: Float64Array, i: number, jump: number, points: number): boolean {
  const half = points >> 1;
  if (i - 1 - 2 * half < 0 || i + 2 + 2 * half >= y.length) return false;
  const mean = (from: number) => {
    let sum = 0;
    for (let k = from; k < from + half; k++) sum += y[k]!;
    return sum / half;
  };
  const before = Math.abs(mean(i - 2 * half) - mean(i - half));
  const after = Math.abs(mean(i + 3) - mean(i + 3 + half));
  const change = mean(i + 3) - mean(i - half);
  const tolerance = 0.2 * Math.abs(jump);
  return before < tolerance && after < tolerance && change * jump > 0 && Math.abs(change) > 0.6 * Math.abs(jump);
}
