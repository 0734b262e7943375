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
  /** [signal unit] Standard deviation of R by level over the windows that hold noise alone: truer than `level`, and without its floors. */
  readonly calm: readonly number[];
  /** [signal unit] The same of single points in 1, 2, 4 or 8 equal parts of the run. */
  readonly parts: readonly number[];
  /** Number of stretches. */
  readonly stretches: number;
  /** [signal unit] Smallest step between readings, 0 when not visibly quantised. */
  readonly quantum: number;
}

/** [-] Curvature noise R of white noise over its standard deviation, sqrt(1.5). */
export const curvatureFactor = 1.224744871391589;
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
/** What {@link calmMean} gives of a window's figure over the standard deviation, for white noise: from simulation too. */
const calmFactor = 0.76;
/** [-] Standard deviation of a window's figure over its mean, for white noise. */
const calmSpread = 0.44;
/** A part of the run has as many points. */
const fewestInPart = 400;
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
  const calm: number[] = [];
  let parts: readonly number[] | undefined;
  const figures = workspace.take('noise figures', stretches * windowsPerStretch);
  for (let l = 0; l < pyramid.levels.length; l++) {
    const means = pyramid.levels[l]!;
    const before = level[l - 1] ?? Infinity;
    // Quantised readings hide noise below a step: their own scatter is the floor.
    const floor = quantum * (l < 2 ? 0.35 : 0.2);
    const windows = Math.floor((means.length - 2 - windowLength) / 2) + 1;
    const perStretch = new Float64Array(stretches);
    let kept = 0;
    const ends = [0];
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
      ends.push(kept);
    }
    // Steps make many windows of quantised readings look calmer than they are.
    const least = (0.5 * quantum) / 2 ** l;
    parts ??= calmOfParts(figures, ends, means.length, least);
    calm.push(calmMean(figures.subarray(0, kept), calmSpread, least).mean / calmFactor);
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
  raiseInterpolated(local, pyramid.coarseness);
  return { level, local, calm, parts: parts!, stretches, quantum };
}

/** Where the grid is finer than the samples, fine levels see the smoothness of the interpolation, not the noise. */
function raiseInterpolated(local: readonly Float64Array[], coarseness: readonly number[]): void {
  for (let s = 0; s < coarseness.length; s++) {
    let top = 0;
    while (2 ** top < 1.5 * coarseness[s]! && top + 1 < local.length) top++;
    if (top === 0) continue;
    let worst = 0;
    for (let l = 0; l <= top; l++) worst = Math.max(worst, local[l]![s]!);
    for (let l = 0; l < top; l++) local[l]![s] = worst;
  }
}

/** [signal unit] {@link ScaleNoise.parts} from the figures of single points, up to each end of a stretch. */
function calmOfParts(figures: Float64Array, ends: readonly number[], points: number, least: number): number[] {
  let count = 1;
  while (2 * count < ends.length && points >= 2 * count * fewestInPart) count *= 2;
  const each = (ends.length - 1) / count;
  return Array.from({ length: count }, (_, k) => {
    const part = figures.subarray(ends[k * each], ends[(k + 1) * each]);
    return calmMean(part, calmSpread, least).mean / calmFactor;
  });
}

/**
 * Mean of the figures of windows that hold noise alone: beginning at a low
 * quantile, or at `least`, the mean of all figures that noise of that mean could give, until
 * it no longer grows. It ends on the lowest cluster, so that it does not matter
 * how many figures are of peaks or how high those are, as long as a twentieth is of none.
 *
 * @param figures - Reordered.
 * @param spread - [-] Standard deviation of the figures of noise over their mean.
 *
 * @returns The mean, and the figure above which there is more than noise; 0 without figures.
 */
export function calmMean(figures: Float64Array, spread: number, least = 0): { mean: number; limit: number } {
  const count = figures.length;
  let mean = count > 0 ? Math.max(quantileInPlace(figures, count, 0.05), least) : 0;
  for (;;) {
    const limit = mean * (1 + 2.5 * spread);
    let sum = 0;
    let taken = 0;
    for (let i = 0; i < count; i++) {
      const figure = figures[i]!;
      if (figure > limit) continue;
      sum += figure;
      taken++;
    }
    if (!(sum > mean * taken * (1 + 1e-6))) return { mean, limit };
    mean = sum / taken;
  }
}

/** Mean of |R| over one window of a level. */
function windowFigure(means: Float64Array, from: number): number {
  let sum = 0;
  for (let i = from; i < from + windowLength; i++) {
    sum += Math.abs(means[i]! - 0.5 * (means[i - 1]! + means[i + 1]!));
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
  return worstNoiseAt(noise, level, level, place);
}

/** [signal unit] The largest noise of R of several levels at a place of the run. */
export function worstNoiseAt(noise: ScaleNoise, finest: number, coarsest: number, place: number): number {
  const { stretches, local } = noise;
  const x = Math.min(Math.max(place * stretches - 0.5, 0), stretches - 1);
  const i = Math.min(Math.floor(x), stretches - 2);
  const part = x - i;
  let worst = 0;
  for (let l = Math.min(finest, local.length - 1); l <= coarsest && l < local.length; l++) {
    const stretch = local[l]!;
    const own = stretch[i]! + part * (stretch[i + 1]! - stretch[i]!);
    if (own > worst) worst = own;
  }
  return worst;
}
