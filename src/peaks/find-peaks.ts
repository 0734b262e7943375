import { fitBaseline, type Baseline, type Interval } from '../baseline/index.js';
import { PeakwrightError, resolveOptions } from '../core/index.js';
import { createWorkspace, quantileInPlace, type Workspace } from '../numeric/index.js';
import {
  bridgeSpikes,
  buildPyramid,
  findEdges,
  layDecisionGrid,
  noiseAt,
  scanNoise,
  type Edge,
  type Pyramid,
  type ScaleNoise,
  type Spike,
} from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import { measureBump, type Bump } from './bumps.js';
import type { Candidate, RejectedCandidate } from './candidate.js';
import { findExtrema, type Extremum } from './extrema.js';
import { setApart, type SetApart } from './set-apart.js';
import { surveyIntervals } from './survey.js';

/**
 * Options of {@link findPeaks}.
 *
 * @public
 */
export interface FindPeaksOptions {
  /**
   * [min] Standard deviation of the narrower peaks; it sets the distance of the baseline's knots.
   *
   * @defaultValue 'automatic'
   */
  readonly peakWidth?: number | 'automatic';
  /**
   * [min] No bend of the baseline is sharper than this, unless its free stretches demand it.
   *
   * @defaultValue 'automatic'
   */
  readonly sharpestBend?: number | 'automatic';
  /**
   * [-] Height over the noise of its own coarseness that a maximum must stand above its valleys.
   *
   * @defaultValue 8
   */
  readonly leastProminence?: number;
  /**
   * [-] Height over the background, as 2H/h with h from the noise at every coarseness, that a peak must have.
   *
   * @defaultValue 3
   */
  readonly leastSignalToNoise?: number;
  /**
   * [-] (Retention time / standard deviation)² below which a bump is background and no peak.
   *
   * @defaultValue 60
   */
  readonly fewestPlates?: number;
}

const defaults: Required<FindPeaksOptions> = {
  peakWidth: 'automatic',
  sharpestBend: 'automatic',
  leastProminence: 8,
  leastSignalToNoise: 3,
  fewestPlates: 60,
};

/**
 * What {@link findPeaks} gives.
 *
 * @public
 */
export interface FoundPeaks {
  /** What is taken for a peak, in order of time. */
  readonly candidates: readonly Candidate[];
  /** What stands out as well but does not look like a peak. */
  readonly apart: readonly SetApart[];
  /** What was looked at and not taken, in order of time. */
  readonly rejected: readonly RejectedCandidate[];
  /** The baseline of the run. */
  readonly baseline: Baseline;
  /** Lone points that were bridged before anything was looked for. */
  readonly spikes: readonly Spike[];
  /** Places where the level changes at once and stays. */
  readonly steps: readonly Edge[];
  /** What was asked, with the automatic settings resolved. */
  readonly settings: { readonly [K in keyof FindPeaksOptions]-?: number };
  /** Noise by coarseness and place. */
  readonly noise: ScaleNoise;
  /** The signal at every coarseness. */
  readonly pyramid: Pyramid;
}

/** Fewer samples than this say nothing about noise. */
const fewestSamples = 16;
/** [sigma] Pace up to which wander is held against a bump. */
const wanderReach = 3;
/** [-] Width over the largest that the neighbours let expect, from which a hump is background. */
const mostBroad = 3;
/** [-] Height of a bump over a neighbour of the other direction it joins, on one side, or on both, below which it is ground. */
const mostFoot = 0.15;
const mostBetween = 1;
/** Limits of the tests, and the length of the run. */
interface Limits {
  readonly leastSignalToNoise: number;
  readonly fewestPlates: number;
  /** [min] */
  readonly duration: number;
}

/** [-] Range of a few hundred normal values over their standard deviation. */
const rangeFactor = 6;

/**
 * Finds peaks and the baseline they stand on.
 *
 * 1. The signal is laid out at every coarseness (means of 1, 2, 4 ... samples)
 *    and the noise measured at each, in the quiet parts of the run.
 * 2. Maxima and minima that stand out of the noise at some coarseness are kept,
 *    fine ones first, so that shallow valleys and weak broad peaks are both seen.
 * 3. A baseline is laid through what their flanks leave free (survey), the
 *    extremes are measured against it, and it is laid again around what was found (final).
 * 4. What stands off the baseline far enough is a candidate, with its reach; what
 *    is shaped like a spike, a bubble or the early disturbance is set apart; the rest is
 *    rejected with the test it failed.
 *
 * Thresholds are in noise, never relative to the largest peak. Both directions
 * are treated alike. An unequal time axis is interpolated for deciding only.
 *
 * @param trace - The record, N samples.
 * @param options - See {@link FindPeaksOptions}; nothing needs to be set.
 * @param workspace - Scratch space to use again from run to run.
 * @returns Candidates, what was set apart, what was rejected, and the baseline.
 * @throws PeakwrightError `option-unknown`, `option-invalid`; `trace-too-short` below 16 samples.
 *
 * @public
 */
export function findPeaks(
  trace: Trace,
  options: FindPeaksOptions = {},
  workspace: Workspace = createWorkspace(),
): FoundPeaks {
  const asked = resolveOptions('findPeaks', defaults, options);
  if (trace.time.length < fewestSamples) {
    throw new PeakwrightError(
      'trace-too-short',
      `findPeaks: a trace of at least ${fewestSamples} samples is needed; this one has ${trace.time.length}.`,
      { value: trace.time.length, expected: `at least ${fewestSamples} samples` },
    );
  }
  const grid = layDecisionGrid(trace, workspace);
  let pyramid = buildPyramid(grid, workspace);
  const noise = scanNoise(pyramid, workspace);
  const bridged = bridgeSpikes(grid, noise, workspace);
  if (bridged.spikes.length > 0) pyramid = buildPyramid(bridged.grid, workspace);
  const extrema = findExtrema(pyramid, noise, asked.leastProminence, workspace);
  const duration = grid.step * (grid.count - 1);
  const rejected: RejectedCandidate[] = [];
  const width = asked.peakWidth === 'automatic' ? typicalWidth(extrema, duration, workspace) : asked.peakWidth;
  const bend = asked.sharpestBend === 'automatic' ? 4 * width : asked.sharpestBend;
  const limits = { ...asked, duration };
  const edges = findEdges(bridged.grid, noise, 16 * width);
  const breaks = edges.filter((e) => e.lasting).map((e) => e.at);
  const polarity = mainDirection(pyramid, workspace);
  const range = { from: grid.start, to: grid.start + duration };
  const ground = extrema.filter((e, i) => isGround(e, extrema[i - 1], extrema[i + 1], polarity, range));
  const isPeak = (e: Extremum, i: number) =>
    e.width < (e.atEnd ? Math.min(endWidth(extrema, i, width), duration / 6) : duration / 6) && !ground.includes(e);
  let avoid = surveyIntervals(extrema.filter(isPeak), pyramid, noise, workspace);
  let fitted = fitBaseline(pyramid, noise, avoid, breaks, width, bend, workspace);
  let bumps: readonly Bump[] = [];
  for (let pass = 0; pass < 2; pass++) {
    bumps = standing(extrema, pyramid, noise, fitted.baseline, limits);
    // Ground that seems to lie off the baseline shows that the baseline does.
    const low = bumps.filter((b) => b.sign !== polarity && (ground.includes(b.extremum) || isFoot(b, bumps)));
    const kept = bumps.filter((b) => !low.includes(b));
    avoid = without(
      kept.map((b) => ({ from: b.from - 1.5 * b.sigma, to: b.to + 2 * b.sigma })),
      low.map((b) => ({ from: b.at - width, to: b.at + width })),
    );
    fitted = fitBaseline(pyramid, noise, avoid, breaks, width, bend, workspace);
  }
  bumps = standing(extrema, pyramid, noise, fitted.baseline, limits, rejected);
  const candidates: Candidate[] = [];
  for (const bump of bumps) {
    const foot = bump.sign !== polarity ? footTest(bump, bumps) : undefined;
    if (foot === undefined) candidates.push(asCandidate(bump, trace));
    else rejected.push(foot);
  }
  candidates.sort((a, b) => a.apex - b.apex);
  for (let i = candidates.length - 1; i >= 0; i--) {
    const broad = tooBroad(candidates, i);
    if (broad === undefined) continue;
    rejected.push(broad);
    candidates.splice(i, 1);
  }
  const sorted = setApart(candidates, edges, grid.step);
  const { leastProminence, leastSignalToNoise, fewestPlates } = asked;
  return {
    candidates: sorted.peaks,
    apart: sorted.apart,
    rejected: rejected.sort((a, b) => a.at - b.at),
    baseline: fitted.baseline,
    spikes: bridged.spikes,
    steps: edges.filter((e) => e.lasting),
    settings: { peakWidth: width, sharpestBend: bend, leastProminence, leastSignalToNoise, fewestPlates },
    noise,
    pyramid,
  };
}

/** The extremes that stand off the baseline as peaks would; those that do not go to `rejected` when it is given. */
function standing(
  extrema: readonly Extremum[],
  pyramid: Pyramid,
  noise: ScaleNoise,
  baseline: Baseline,
  limits: Limits,
  rejected?: RejectedCandidate[],
): Bump[] {
  const bumps: Bump[] = [];
  for (const e of extrema) {
    const bump = measureBump(e, pyramid, noise, baseline);
    if (bump === undefined) continue;
    const failed = failedTest(bump, noise, pyramid, limits);
    if (failed === undefined) bumps.push(bump);
    else rejected?.push(failed);
  }
  return bumps;
}

/** Neighbours in time of opposite direction that leave no baseline between. */
function touching(bump: Bump, bumps: readonly Bump[]): { readonly height: number; readonly first: boolean }[] {
  const i = bumps.indexOf(bump);
  const result: { height: number; first: boolean }[] = [];
  for (const k of [i - 1, i + 1]) {
    const other = bumps[k];
    if (other === undefined || other.sign === bump.sign) continue;
    const gap = k < i ? bump.from - other.to : other.from - bump.to;
    if (gap < 0.7 * Math.min(bump.sigma, other.sigma)) result.push({ height: other.height, first: k === 0 });
  }
  return result;
}

/** Whether a bump is only the foot of a larger one beside it, or the ground between two. */
function isFoot(bump: Bump, bumps: readonly Bump[]): boolean {
  const sides = touching(bump, bumps);
  // The dip after the first rise of a run may be the solvent's; it is judged with its company.
  if (sides.length === 0 || sides.some((s) => s.first && s.height < 10 * bump.height)) return false;
  const share = bump.height / Math.max(...sides.map((s) => s.height));
  return share < (sides.length === 2 ? mostBetween : mostFoot);
}

/** The record of a bump that fails {@link isFoot}. */
function footTest(bump: Bump, bumps: readonly Bump[]): RejectedCandidate | undefined {
  if (!isFoot(bump, bumps)) return undefined;
  const sides = touching(bump, bumps);
  const share = bump.height / Math.max(...sides.map((s) => s.height));
  const limit = sides.length === 2 ? mostBetween : mostFoot;
  return {
    at: bump.at,
    height: bump.sign * bump.height,
    test: 'apart from a larger neighbour',
    value: share,
    limit,
    text: `It joins ${sides.length === 2 ? 'two neighbours' : 'a neighbour'} of the other direction without baseline between and has ${(100 * share).toPrecision(2)} % of the height beside it (${100 * limit} % are needed): the ground beside a peak.`,
  };
}

/** The test a candidate fails that is far broader than its neighbours let expect: the rise and fall of the background. */
function tooBroad(candidates: readonly Candidate[], i: number): RejectedCandidate | undefined {
  const own = candidates[i]!;
  let expected = 0;
  let taken = 0;
  for (let k = Math.max(0, i - 3); k <= Math.min(candidates.length - 1, i + 3); k++) {
    if (k === i) continue;
    const other = candidates[k]!;
    const later = own.apex > other.apex && other.apex > 0 ? own.apex / other.apex : 1;
    expected = Math.max(expected, other.sigma * later);
    taken++;
  }
  const ratio = own.sigma / expected;
  if (taken < 2 || ratio < mostBroad) return undefined;
  return {
    at: own.apex,
    height: own.height,
    test: 'width among its neighbours',
    value: ratio,
    limit: mostBroad,
    text: `It is ${ratio.toFixed(1)} times as broad as its neighbours let expect at its place (at most ${mostBroad}): the rise and fall of a background.`,
  };
}

/** Stretches without the parts that others cover. */
function without(stretches: readonly Interval[], holes: readonly Interval[]): Interval[] {
  let result = [...stretches];
  for (const hole of holes) {
    result = result.flatMap(({ from, to }) =>
      hole.to <= from || hole.from >= to
        ? [{ from, to }]
        : [
            { from, to: hole.from },
            { from: hole.to, to },
          ].filter((i) => i.to > i.from),
    );
  }
  return result;
}

/**
 * Whether an extreme is the ground between two narrower ones of the other sign,
 * rather than a peak: resolved peaks are narrower than what lies between them.
 */
function isGround(
  e: Extremum,
  before: Extremum | undefined,
  after: Extremum | undefined,
  polarity: 1 | -1,
  range: Interval,
): boolean {
  if (before?.sign === e.sign || after?.sign === e.sign) return false;
  const sides = [before, after]
    .filter((o) => o !== undefined && !o.atEnd && o.prominence > 0.5 * e.prominence)
    .map((o) => o!.width);
  if (sides.length === 0) return false;
  // In a crowd the valleys are the narrower ones: what points the way of the run needs more to be ground.
  const left = before === undefined ? range.from : before.at + before.width / 2;
  const right = after === undefined ? range.to : after.at - after.width / 2;
  // Ground fills the whole room between its neighbours; a peak of the other direction leaves some on both sides.
  if (e.width < 0.5 * (right - left)) return false;
  const factor = (sides.length === 2 ? 1.3 : 2) * (e.sign === polarity ? 3 : 1);
  return e.width > factor * Math.max(...sides);
}

/** [min] Width up to which an extreme at an end of the record is the flank of a peak, and not drift: by the nearest one inside. */
function endWidth(extrema: readonly Extremum[], i: number, width: number): number {
  const e = extrema[i]!;
  const side = i < extrema.length / 2 ? 1 : -1;
  let k = i + side;
  while (extrema[k] !== undefined && (extrema[k]!.sign !== e.sign || extrema[k]!.atEnd)) k += side;
  return Math.max(8 * width, 2.5 * (extrema[k]?.width ?? 0));
}

/** The direction in which the run reaches further from its middle level. */
function mainDirection(pyramid: Pyramid, workspace: Workspace): 1 | -1 {
  let level = 0;
  while (level + 1 < pyramid.levels.length && pyramid.levels[level]!.length > 4000) level++;
  const means = pyramid.levels[level]!;
  const sorted = workspace.take('direction', means.length);
  sorted.set(means);
  const middle = quantileInPlace(sorted, means.length, 0.5);
  let high = 0;
  let low = 0;
  for (const m of means) {
    high = Math.max(high, m - middle);
    low = Math.max(low, middle - m);
  }
  return high >= low ? 1 : -1;
}

/** [min] Standard deviation of the narrower peaks: a low quantile of the significant widths. */
function typicalWidth(extrema: readonly Extremum[], duration: number, workspace: Workspace): number {
  const widths = extrema.filter((e) => !e.atEnd && e.width < duration / 6).map((e) => e.width);
  if (widths.length === 0) return duration / 100;
  const scratch = workspace.take('widths', widths.length);
  scratch.set(widths);
  return quantileInPlace(scratch, widths.length, 0.3) / 2.354820045030949;
}

/**
 * [signal unit] Peak-to-peak background to expect around a bump, from the noise
 * at every coarseness up to `reach` of its standard deviations.
 */
function background(bump: Bump, noise: ScaleNoise, pyramid: Pyramid, reach: number): number {
  const grid = pyramid.levels[0]!.length;
  const place = (bump.at - pyramid.start) / (pyramid.step * grid);
  let squares = 0;
  for (let l = 0, box = pyramid.step; l < noise.level.length && (l < 4 || box <= reach * bump.sigma); l++, box *= 2) {
    squares += noiseAt(noise, l, place) ** 2 / 3;
  }
  return rangeFactor * Math.sqrt(squares);
}

/** The first test a bump fails, if any. */
function failedTest(bump: Bump, noise: ScaleNoise, pyramid: Pyramid, limits: Limits): RejectedCandidate | undefined {
  const { leastSignalToNoise, fewestPlates, duration } = limits;
  const reject = (test: string, value: number, limit: number, text: string): RejectedCandidate => ({
    at: bump.at,
    height: bump.sign * bump.height,
    test,
    value,
    limit,
    text,
  });
  const ratioTo = (h: number) => (h > 0 ? (2 * bump.height) / h : 1e12);
  const ratio = ratioTo(background(bump, noise, pyramid, 1));
  if (ratio < leastSignalToNoise) {
    return reject(
      'signal-to-noise',
      ratio,
      leastSignalToNoise,
      `Stands ${ratio.toFixed(1)} times half the background above the baseline; ${leastSignalToNoise} are needed.`,
    );
  }
  // Wander is as slow as a peak: there half the ratio must do, since crowded peaks look like wander too.
  const slow = ratioTo(background(bump, noise, pyramid, wanderReach));
  if (slow < leastSignalToNoise / 2) {
    return reject(
      'signal-to-noise with wander',
      slow,
      leastSignalToNoise / 2,
      `Stands ${slow.toFixed(1)} times half the wander of the run at its own pace above the baseline; ${leastSignalToNoise / 2} are needed.`,
    );
  }
  const time = Math.max(bump.at - Math.min(pyramid.start, 0), duration / 50);
  const plates = (time / bump.sigma) ** 2;
  if (plates < fewestPlates) {
    return reject(
      'width',
      plates,
      fewestPlates,
      `So broad that it would be ${plates.toFixed(0)} plates: background, not a peak.`,
    );
  }
  if (bump.extremum.atEnd) {
    return reject('apex inside the record', 0, 1, 'The record begins or ends on its flank: the apex lies outside.');
  }
  return undefined;
}

/** The public form of a bump. */
function asCandidate(bump: Bump, trace: Trace): Candidate {
  const first = trace.time[0]!;
  const last = trace.time[trace.time.length - 1]!;
  const kind = (t: number, baseline: boolean) =>
    baseline ? 'baseline' : t <= first + bump.sigma * 0.2 || t >= last - bump.sigma * 0.2 ? 'cut off' : 'neighbour';
  return {
    apex: bump.at,
    sigma: bump.sigma,
    height: bump.sign * bump.height,
    significance: bump.extremum.significance,
    direction: bump.sign > 0 ? 'up' : 'down',
    from: Math.max(first, bump.from - (bump.fromBaseline ? 0.7 * bump.sigma : 0)),
    to: Math.min(last, bump.to + (bump.toBaseline ? 0.9 * bump.sigma : 0)),
    fromKind: kind(bump.from, bump.fromBaseline),
    toKind: kind(bump.to, bump.toBaseline),
  };
}
