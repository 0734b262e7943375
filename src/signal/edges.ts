import { quantileInPlace } from '../numeric/index.js';
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
 * leaves. An edge lasts when the medians of the two halves of the stretch after
 * it, and of the stretch before it, agree to a fifth of the jump, and no opposite
 * edge undoes it soon.
 *
 * @param width - [min] Length of the stretches looked at on both sides.
 */
export function findEdges(grid: DecisionGrid, noise: ScaleNoise, width: number): Edge[] {
  const { values: y, count } = grid;
  const edges: Edge[] = [];
  const scratch = new Float64Array(256);
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
    edges.push({ at, jump, lasting: lasts(y, i, jump, Math.max(12, Math.floor(width / grid.step)), scratch) });
  }
  return undone(edges, 4 * width);
}

/** Whether the levels on both sides hold, judged by medians, which a peak in the stretch does not reach. */
function lasts(y: Float64Array, i: number, jump: number, points: number, scratch: Float64Array): boolean {
  const half = points >> 1;
  if (i - 1 - 2 * half < 0 || i + 3 + 2 * half > y.length) return false;
  const median = (from: number) => {
    const stride = Math.max(1, Math.floor(half / scratch.length));
    let kept = 0;
    for (let k = from; k < from + half && kept < scratch.length; k += stride) scratch[kept++] = y[k]!;
    return quantileInPlace(scratch, kept, 0.5);
  };
  const far = median(i - 2 * half);
  const before = median(i - half);
  const after = median(i + 3);
  const later = median(i + 3 + half);
  const tolerance = 0.2 * Math.abs(jump);
  return (
    Math.abs(far - before) < tolerance &&
    Math.abs(after - later) < tolerance &&
    (after - before) * jump > 0.6 * jump * jump
  );
}

/** Two opposite edges that undo each other leave no step behind: what lies between them passed by. */
function undone(edges: readonly Edge[], longest: number): Edge[] {
  const result = [...edges];
  for (let i = 0; i + 1 < result.length; i++) {
    const a = result[i]!;
    const b = result[i + 1]!;
    if (b.at - a.at > longest || Math.abs(a.jump + b.jump) > 0.35 * Math.abs(a.jump)) continue;
    result[i] = { ...a, lasting: false };
    result[i + 1] = { ...b, lasting: false };
  }
  return result;
}
