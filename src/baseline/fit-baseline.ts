import { penalisedWork, quantileInPlace, solvePenalised, type Workspace } from '../numeric/index.js';
import { curvatureFactor, noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';
import type { Baseline } from './baseline.js';
import { takeBlockMeans, type BlockMeans, type Interval } from './block-means.js';

/** A baseline, and the stiffness that was chosen for it. */
export interface FittedBaseline {
  readonly baseline: Baseline;
  /** [knots⁴] */
  readonly stiffness: number;
}

/** [knots] A line that is stiff over so many is straight for every purpose. */
const straightKnots = 1024;
/** [knots] Beyond this length without data the baseline runs straight instead of keeping its curvature. */
const tension = 12;
/** [noise of a block] A rise across what is avoided that is a slope of the baseline, and not of noise or a tail. */
const clearRise = 10;
/** [knots] Beside data the line keeps its slope for so long. */
const shoulder = 4;
/** [-] Mean residual of three blocks over their noise from which the line is too stiff there. */
const misfit = 4;
/** [-] Factor between the stiffnesses tried. */
const stiffnessStep = 5;
/** [-] Scores closer than this are alike: a hundredth is a few of some hundred blocks. */
const alike = 1.01;

/**
 * Lays a baseline through the free stretches: means of short blocks, joined by a
 * penalised spline whose stiffness minimises the generalised cross-validation
 * score of Craven and Wahba, Numer. Math. 31 (1979) 377-403 (from memory),
 * between `bend` [min], the sharpest that is allowed, and a straight line. Where
 * free blocks demand it the line is loosened; blocks that stay off it alone are
 * weighted down twice (biweight), so that what was overlooked pulls little. Across
 * `breaks` the level may step. The fit of an earlier pass saves the search for the stiffness.
 */
export function fitBaseline(
  pyramid: Pyramid,
  noise: ScaleNoise,
  avoid: readonly Interval[],
  breaks: readonly number[],
  width: number,
  bend: number,
  workspace: Workspace,
  before?: FittedBaseline,
): FittedBaseline {
  const blocks = takeBlockMeans(pyramid, avoid, breaks, width, workspace);
  const { level, count, first, distance, y, w } = blocks;
  const joined = workspace.take('baseline joined', count).fill(1);
  for (const t of breaks) {
    const i = Math.floor((t - first) / distance);
    if (i >= 0 && i < count - 1) joined[i] = 0;
  }
  // The best solution so far is kept beside the one being tried, so that none is worked out twice.
  let tried = { z: workspace.take('baseline z', count), work: penalisedWork(count), scatter: 0 };
  let best = { z: workspace.take('baseline best z', count), work: penalisedWork(count), scatter: 0 };
  const keep = () => {
    [tried, best] = [best, tried];
  };
  const robust = workspace.take('baseline robust', count);
  robust.set(w);
  const noiseOf = (i: number) => noiseAt(noise, level, i / count) / curvatureFactor;
  const pulled = workspace.take('baseline pulled', count).fill(0);
  const slopes = workspace.take('baseline slopes', count).fill(0);
  pullAcross(blocks, joined, pulled, slopes, noiseOf);
  const score = (stiffness: number): number => {
    const { z, work } = tried;
    solvePenalised(y, robust, joined, count, stiffness, stiffness / (tension * tension), z, work, pulled, slopes);
    let squares = 0;
    let parameters = 0;
    let sum = 0;
    for (let i = 0; i < count; i++) {
      const r = y[i]! - z[i]!;
      squares += robust[i]! * r * r;
      parameters += robust[i]! * work.inverse[i]!;
      sum += robust[i]!;
    }
    tried.scatter = Math.sqrt(squares / Math.max(sum - parameters, 0.2 * sum, 1e-12));
    // A little more than the effective parameters, against the score's known leaning to follow noise.
    const left = sum - 1.2 * parameters;
    return left > 0.05 * sum ? (sum * squares) / (left * left) : Infinity;
  };
  const softest = square(square(Math.max(2, bend / distance)));
  const stiffest = Math.max(softest, square(square(Math.min(count, straightKnots))));
  let stiffness = before?.stiffness ?? bestOfRange(score, softest, stiffest);
  const climb = () => {
    stiffness = downhill(score, keep, stiffness, softest, stiffest);
  };
  climb();
  for (let round = 0; round < 4 && loosen(blocks, best.z, joined, noiseOf); round++) climb();
  weighDown(blocks, best.z, robust, workspace);
  climb();
  weighDown(blocks, best.z, robust, workspace);
  score(stiffness);
  const { z, work, scatter } = tried;
  return { baseline: knots(pyramid, blocks, z, work.inverse, scatter, joined, breaks), stiffness };
}

/**
 * Where the slope is pulled, and to what: only deep inside what is avoided, as
 * beside data it goes on as it was; there to the straight line between the free blocks on both sides.
 */
function pullAcross(
  { y, w, count }: BlockMeans,
  joined: Float64Array,
  pulled: Float64Array,
  slopes: Float64Array,
  noiseOf: (i: number) => number,
): void {
  for (let i = 0, since = 0; i < count; i++) {
    since = w[i]! > 0 || (i > 0 && joined[i - 1] === 0) ? 0 : since + 1;
    if (since <= 2 * shoulder) continue;
    pulled[i - shoulder] = 1;
    if (i + 1 < count && !(w[i + 1]! > 0 || joined[i] === 0)) continue;
    const slope = slopeBetween(y, w, joined, i - since, i + 1, clearRise * noiseOf(i));
    for (let k = i - since + 1; k <= i; k++) slopes[k] = slope;
  }
}

/**
 * Of the line from the free blocks that end at one place to those that begin at
 * another, as far as the slopes there bear it out: of a tail that is left behind a peak they do not.
 */
function slopeBetween(
  y: Float64Array,
  w: Float64Array,
  joined: Float64Array,
  from: number,
  to: number,
  clear: number,
): number {
  const [left, right] = [freeBlocks(y, w, joined, from, -1), freeBlocks(y, w, joined, to, 1)];
  if (left === undefined || right === undefined) return 0;
  const rise = right.y - left.y;
  // Noise makes a small rise, and no slope.
  const chord = (rise / (right.at - left.at)) * ((rise * rise) / (rise * rise + clear * clear));
  return Math.min(Math.max(chord, Math.min(0, left.slope, right.slope)), Math.max(0, left.slope, right.slope));
}

/** Mean of up to three free blocks from one on, and the slope of up to eight. */
function freeBlocks(
  y: Float64Array,
  w: Float64Array,
  joined: Float64Array,
  first: number,
  way: 1 | -1,
): { readonly at: number; readonly y: number; readonly slope: number } | undefined {
  let n = 0;
  let level = 0;
  let at = 0;
  let [st, sy, stt, sty] = [0, 0, 0, 0];
  for (let i = first; n < 8 && i >= 0 && i < w.length && w[i]! > 0; n++, i += way) {
    if (n > 0 && joined[way > 0 ? i - 1 : i] === 0) break;
    if (n < 3) [level, at] = [level + y[i]!, at + i];
    const t = i - first;
    st += t;
    sy += y[i]!;
    stt += t * t;
    sty += t * y[i]!;
  }
  if (n === 0) return undefined;
  const spread = n * stt - st * st;
  const used = Math.min(3, n);
  return { at: at / used, y: level / used, slope: spread > 0 ? (n * sty - st * sy) / spread : 0 };
}

function square(x: number): number {
  return x * x;
}

/** The best of a wide range, in wide steps. */
function bestOfRange(score: (x: number) => number, softest: number, stiffest: number): number {
  let best = softest;
  let least = Infinity;
  for (let x = softest; x <= stiffest; x *= stiffnessStep * stiffnessStep) {
    const value = score(x);
    if (value < least) [best, least] = [x, value];
  }
  return best;
}

/**
 * From a stiffness on, step by step, softer while the score falls, and stiffer
 * while it does not rise by more than noise makes it: of fits alike the stiffest.
 * Every score that is the best so far is kept.
 */
function downhill(
  score: (x: number) => number,
  keep: () => void,
  from: number,
  softest: number,
  stiffest: number,
): number {
  let best = from;
  let least = score(from);
  keep();
  for (let x = from / stiffnessStep; x >= softest; x /= stiffnessStep) {
    const value = score(x);
    if (!(value < least)) break;
    [best, least] = [x, value];
    keep();
  }
  for (let x = best * stiffnessStep; x <= stiffest; x *= stiffnessStep) {
    const value = score(x);
    if (!(value < alike * least)) break;
    best = x;
    keep();
    least = Math.min(least, value);
  }
  return best;
}

/**
 * Lets the line bend more where the free blocks of a stretch stay off it, all to
 * one side, by far more than their noise: the end of a gradient is sharper than
 * the drift of the rest. Gives whether anything was loosened.
 */
function loosen(
  { y, w, count }: BlockMeans,
  z: Float64Array,
  joined: Float64Array,
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
      // Where nothing is known the line stays stiff: it runs straight on there.
      if (joined[k]! > limit && w[k] === 1 && w[k + 1] === 1) {
        joined[k] = Math.max(limit, joined[k]! * 0.4);
        loosened = true;
      }
    }
  }
  return loosened;
}

/** Takes weight from blocks that stay off the line alone (Tukey's biweight at five deviations). */
function weighDown({ y, w, count }: BlockMeans, z: Float64Array, robust: Float64Array, workspace: Workspace): void {
  const spread = residualSpread(y, z, w, 0, count, workspace);
  for (let i = 0; i < count; i++) {
    const off = y[i]! - z[i]!;
    // Where a whole stretch is off, the line is to blame and not the blocks.
    const local =
      Math.abs(off) > 2 * spread ? residualSpread(y, z, w, Math.max(0, i - 8), Math.min(count, i + 9), workspace) : 0;
    const scale = 5 * Math.max(spread, local);
    const r = scale > 0 ? off / scale : 0;
    const keep = r * r < 1 ? square(1 - r * r) : 0;
    robust[i] = Math.max(w[i]! * keep, w[i]! > 0 ? 1e-6 : 1e-9);
  }
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

/** The solution as knots: one per block, one at each end of the record, two close together at a step. */
export function knots(
  pyramid: Pyramid,
  { count, first, distance, line }: BlockMeans,
  z: Float64Array,
  inverse: Float64Array,
  scatter: number,
  joined: Float64Array,
  breaks: readonly number[],
): Baseline {
  // As long as they can become, so that nothing is copied while they grow.
  const most = count + 2 + 2 * breaks.length;
  const time = new Array<number>(most).fill(NaN);
  const value = new Array<number>(most).fill(NaN);
  const uncertainty = new Array<number>(most).fill(NaN);
  let length = 0;
  const at = (i: number) => z[i]! + line.at + line.slope * i;
  const push = (t: number, v: number, i: number) => {
    time[length] = t;
    value[length] = v;
    uncertainty[length++] = scatter * Math.sqrt(Math.max(inverse[i]!, 0));
  };
  const last = count - 1;
  push(pyramid.start, at(0) - ((at(1) - at(0)) * (first - pyramid.start)) / distance, 0);
  for (let i = 0; i < count; i++) {
    const centre = first + i * distance;
    if (centre > time[length - 1]!) push(centre, at(i), i);
    if (i === last || joined[i] !== 0) continue;
    const t = breaks.find((b) => b >= centre && b < centre + distance) ?? centre + distance / 2;
    push(Math.max(t - 0.02 * distance, centre + 0.01 * distance), at(i), i);
    push(Math.min(t + 0.02 * distance, centre + 0.99 * distance), at(i + 1), i + 1);
  }
  const end = pyramid.start + pyramid.step * (pyramid.levels[0]!.length - 1);
  const beyond = (end - (first + last * distance)) / distance;
  if (beyond > 0) push(end, at(last) + (at(last) - at(last - 1)) * beyond, last);
  time.length = value.length = uncertainty.length = length;
  return { id: 'run', kind: 'knots', time, value, uncertainty };
}
