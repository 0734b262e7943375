import { quantileInPlace, type Workspace } from '../numeric/index.js';
import type { Pyramid } from './pyramid.js';

/**
 * Noise by coarseness and place. At level L the statistic is the curvature
 * R = m[i] - (m[i-1] + m[i+1]) / 2 of the means m, which straight drift does not
 * reach. White noise of standard deviation s gives sqrt(1.5 / 2^L) s; correlated
 * noise, ripple and wander show as they are, at the coarseness where they live.
 */
export interface ScaleNoise {
  /** [signal unit] Standard deviation of R by level, in the quiet parts of the run. */
  readonly level: readonly number[];
  /** [signal unit] The same by level and stretch (`stretches` equal stretches of the run). */
  readonly local: readonly Float64Array[];
  /** Number of stretches. */
  readonly stretches: number;
  /** [signal unit] Smallest step between readings, 0 when not visibly quantised. */
  readonly quantum: number;
}

/** Curvatures in one block; their median absolute value is the block's figure. */
const blockLength = 24;
/** Blocks looked at per level and stretch at the most, evenly spread. */
const blocksPerStretch = 24;
/** Share of blocks taken to be free of peaks. */
const quietShare = 0.25;
/**
 * Median of |R| in a block over its standard deviation, at the quiet quantile
 * of blocks, for white noise [from simulation of this very procedure, 4e5
 * samples]: 0.6745 lowered because the quantile picks low blocks.
 */
const whiteFactor = 0.585;
/** Below this many blocks in a run a block is too long to lie between peaks. */
const fewBlocks = 64;
/** Share of curvatures taken to be free of peaks at coarse levels, and the quantile of |normal| there. */
const lowShare = 0.2;
const lowFactor = 0.2533;
const mostGrowth = 3;
/** A stretch may be this much noisier than the quiet parts before peaks are blamed for it. */
const mostRise = 3;

/** Measures the noise at each level of the pyramid. */
export function scanNoise(pyramid: Pyramid, workspace: Workspace): ScaleNoise {
  const quantum = findQuantum(pyramid.levels[0]!, workspace);
  const stretches = 8;
  const level: number[] = [];
  const local: Float64Array[] = [];
  for (let l = 0; l < pyramid.levels.length; l++) {
    const means = pyramid.levels[l]!;
    const blocks = Math.floor((means.length - 2) / blockLength);
    if (blocks < fewBlocks && means.length > 16) {
      // Blocks would be longer than the quiet stretches: a low quantile of the curvatures themselves.
      const before = level[l - 1];
      const floor = quantum * (l < 2 ? 0.35 : 0.2);
      // Few means and many peaks: wander does not grow faster than this from one coarseness to the next.
      const own = Math.max(Math.min(lowQuantile(means, workspace), mostGrowth * (before ?? Infinity)), floor);
      level.push(own);
      local.push(before === undefined ? new Float64Array(stretches).fill(own) : local[l - 1]!.map((v) => (v * own) / before));
      continue;
    }
    // Quantised readings hide noise below a step: their own scatter is the floor.
    const floor = quantum * (l < 2 ? 0.35 : 0.2);
    if (blocks < 6) {
      // Too short to tell noise from peaks: carried on from the level below, neither rising nor falling.
      level.push(Math.max(level[l - 1] ?? 0, floor));
      local.push(local[l - 1] ?? new Float64Array(stretches).fill(floor));
      continue;
    }
    const figures = workspace.take('noise figures', stretches * blocksPerStretch);
    const perStretch = new Float64Array(stretches);
    let kept = 0;
    for (let s = 0; s < stretches; s++) {
      const from = Math.floor((s * blocks) / stretches);
      const to = Math.max(from + 1, Math.floor(((s + 1) * blocks) / stretches));
      const take = Math.min(blocksPerStretch, to - from);
      for (let k = 0; k < take; k++) {
        const block = from + Math.floor((k * (to - from)) / take);
        figures[kept + k] = blockFigure(means, 1 + block * blockLength, workspace);
      }
      perStretch[s] = quantileInPlace(figures.subarray(kept, kept + take), take, quietShare) / whiteFactor;
      kept += take;
    }
    const quiet = Math.max(quantileInPlace(figures, kept, quietShare) / whiteFactor, floor);
    level.push(quiet);
    for (let s = 0; s < stretches; s++) {
      perStretch[s] = Math.min(Math.max(perStretch[s]!, 0.5 * quiet, floor), mostRise * quiet);
    }
    local.push(perStretch);
  }
  return { level, local, stretches, quantum };
}

/** Standard deviation of R from the low end of |R| over a whole level. */
function lowQuantile(means: Float64Array, workspace: Workspace): number {
  const n = means.length - 2;
  const scratch = workspace.take('noise low', n);
  for (let i = 0; i < n; i++) scratch[i] = Math.abs(means[i + 1]! - 0.5 * (means[i]! + means[i + 2]!));
  return quantileInPlace(scratch, n, lowShare) / lowFactor;
}

/** Median of |R| over one block of a level. */
function blockFigure(means: Float64Array, from: number, workspace: Workspace): number {
  const scratch = workspace.take('noise block', blockLength);
  for (let k = 0; k < blockLength; k++) {
    const i = from + k;
    const r = means[i]! - 0.5 * (means[i - 1]! + means[i + 1]!);
    scratch[k] = r < 0 ? -r : r;
  }
  return quantileInPlace(scratch, blockLength, 0.5);
}

/**
 * The step of the converter: the smallest difference between neighbouring
 * readings, if a good part of all readings repeats the one before it.
 */
function findQuantum(values: Float64Array, workspace: Workspace): number {
  const n = values.length;
  const stride = Math.max(1, Math.floor(n / 4000));
  let same = 0;
  let looked = 0;
  const steps = workspace.take('quantum', Math.ceil(n / stride) + 1);
  let count = 0;
  for (let i = 1; i < n; i += stride) {
    const difference = Math.abs(values[i]! - values[i - 1]!);
    looked++;
    if (difference === 0) same++;
    else steps[count++] = difference;
  }
  if (same < 0.05 * looked || count === 0) return 0;
  // Rounding in the last bits makes a few differences slightly too small: the low quantile stands for the step.
  return quantileInPlace(steps, count, 0.02);
}

/**
 * [signal unit] Noise of R at a level and a place of the run (0 start, 1 end):
 * the larger of the quiet figure and the stretch's own, straight between the
 * middles of the stretches.
 */
export function noiseAt(noise: ScaleNoise, level: number, place: number): number {
  const l = Math.min(level, noise.level.length - 1);
  const stretch = noise.local[l]!;
  const x = Math.min(Math.max(place * noise.stretches - 0.5, 0), noise.stretches - 1);
  const i = Math.min(Math.floor(x), noise.stretches - 2);
  const own = stretch[i]! + (x - i) * (stretch[i + 1]! - stretch[i]!);
  return own;
}
