import { quantileInPlace, type Workspace } from '../numeric/index.js';
import { touchesGap, type Pyramid } from './pyramid.js';

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

/** Curvatures in one window; short, so that it fits between crowded peaks at coarse levels too. */
const windowLength = 4;
/** Windows looked at per level and stretch at the most, evenly spread. */
const windowsPerStretch = 96;
/** Share of windows taken to be free of peaks in the whole run, and in a stretch of it. */
const quietShare = 0.08;
const localShare = 0.2;
/**
 * Mean of |R| in a window over its standard deviation, at these quantiles, for
 * white noise: from simulation of this very procedure on 4e5 samples.
 */
const quietFactor = 0.328;
const localFactor = 0.474;
/** A stretch may be this much noisier than the quiet parts before peaks are blamed for it. */
const mostRise = 3;
/** Nothing but peaks grows faster than this from one coarseness to the next, when few means are left. */
const mostGrowth = 3;
const fewMeans = 200;

/** Measures the noise at each level of the pyramid. */
export function scanNoise(pyramid: Pyramid, workspace: Workspace): ScaleNoise {
  const quantum = findQuantum(pyramid.levels[0]!, workspace);
  const stretches = 8;
  const level: number[] = [];
  const local: Float64Array[] = [];
  const figures = workspace.take('noise figures', stretches * windowsPerStretch);
  for (let l = 0; l < pyramid.levels.length; l++) {
    const means = pyramid.levels[l]!;
    const before = level[l - 1] ?? Infinity;
    // Quantised readings hide noise below a step: their own scatter is the floor.
    const floor = quantum * (l < 2 ? 0.35 : 0.2);
    const windows = Math.floor((means.length - 2 - windowLength) / 2) + 1;
    const perStretch = new Float64Array(stretches);
    let kept = 0;
    for (let s = 0; s < stretches; s++) {
      const from = Math.floor((s * windows) / stretches);
      const to = Math.max(from + 1, Math.floor(((s + 1) * windows) / stretches));
      const most = Math.min(windowsPerStretch, to - from);
      let take = 0;
      for (let k = 0; k < most; k++) {
        const first = 1 + 2 * (from + Math.floor((k * (to - from)) / most));
        if (pyramid.gaps.length > 0 && touchesGap(pyramid, l, first - 1, first + windowLength)) continue;
        figures[kept + take++] = windowFigure(means, first);
      }
      // A stretch that is all gap has the noise of the run.
      perStretch[s] =
        take > 0 ? quantileInPlace(figures.subarray(kept, kept + take), take, localShare) / localFactor : NaN;
      kept += take;
    }
    let quiet =
      kept > 0 ? quantileInPlace(figures, kept, quietShare) / quietFactor : Math.max(level[l - 1] ?? 0, floor);
    if (means.length < fewMeans) quiet = Math.min(quiet, mostGrowth * before);
    quiet = Math.max(quiet, floor);
    level.push(quiet);
    for (let s = 0; s < stretches; s++) {
      // Few windows say little about one stretch: there the run speaks, shaped by the finer level.
      const shaped = means.length < fewMeans && l > 0 && before > 0;
      const own = shaped ? (local[l - 1]![s]! * quiet) / before : Number.isNaN(perStretch[s]!) ? quiet : perStretch[s]!;
      perStretch[s] = Math.min(Math.max(own, 0.6 * quiet, floor), mostRise * quiet);
    }
    local.push(perStretch);
  }
  // Where the grid is finer than the samples, fine levels see the smoothness of the interpolation, not the noise.
  for (let s = 0; s < stretches; s++) {
    let top = 0;
    while (2 ** top < 1.5 * pyramid.coarseness[s]! && top + 1 < local.length) top++;
    if (top === 0) continue;
    let worst = 0;
    for (let l = 0; l <= top; l++) worst = Math.max(worst, local[l]![s]!);
    for (let l = 0; l < top; l++) local[l]![s] = worst;
  }
  return { level, local, stretches, quantum };
}

/** Mean of |R| over one window of a level. */
function windowFigure(means: Float64Array, from: number): number {
  let sum = 0;
  for (let i = from; i < from + windowLength; i++) {
    const r = means[i]! - 0.5 * (means[i - 1]! + means[i + 1]!);
    sum += r < 0 ? -r : r;
  }
  return sum / windowLength;
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
