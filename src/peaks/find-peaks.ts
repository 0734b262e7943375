import { baselineAt, fitBaseline, type Baseline, type FittedBaseline, type Interval } from '../baseline/index.js';
import { createWorkspace, quantileInPlace, type Workspace } from '../numeric/index.js';
import {
  bridgeSpikes,
  buildPyramid,
  findEdges,
  layDecisionGrid,
  noiseAt,
  scanNoise,
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

/** What {@link findPeaks} gives. */
export interface FoundPeaks {
  readonly candidates: readonly Candidate[];
  readonly rejected: readonly RejectedCandidate[];
  readonly baseline: Baseline;
  readonly fitted: FittedBaseline;
  readonly apart: readonly SetApart[];
  readonly spikes: readonly Spike[];
  readonly noise: ScaleNoise;
  readonly pyramid: Pyramid;
}

/** [-] Height over peak-to-peak background, as 2H/h, below which nothing is called a peak. */
const leastSignalToNoise = 3;
/** [-] Range of a few hundred normal values over their standard deviation. */
const rangeFactor = 6;
/** [-] (apex time / sigma)²: fewer plates than this is background, not a peak. */
const fewestPlates = 60;

/** Finds peaks and the baseline they stand on: a survey pass, then passes that avoid what was found. */
export function findPeaks(trace: Trace, workspace: Workspace = createWorkspace()): FoundPeaks {
  const grid = layDecisionGrid(trace, workspace);
  let pyramid = buildPyramid(grid, workspace);
  const noise = scanNoise(pyramid, workspace);
  const bridged = bridgeSpikes(grid, noise, workspace);
  if (bridged.spikes.length > 0) pyramid = buildPyramid(bridged.grid, workspace);
  const extrema = findExtrema(pyramid, noise, workspace);
  const duration = grid.step * (grid.count - 1);
  const rejected: RejectedCandidate[] = [];
  const width = typicalWidth(extrema, duration, workspace);
  const edges = findEdges(bridged.grid, noise, 2 * width);
  const breaks = edges.filter((e) => e.lasting).map((e) => e.at);
  const polarity = mainDirection(pyramid, workspace);
  let avoid: Interval[] = surveyIntervals(
    extrema.filter(
      (e, i) =>
        e.width < (e.atEnd ? Math.min(8 * width, duration / 6) : duration / 6) &&
        !isGround(e, extrema[i - 1], extrema[i + 1], polarity),
    ),
    pyramid,
    noise,
    workspace,
  );
  let fitted = fitBaseline(pyramid, noise, avoid, breaks, width, workspace);
  let bumps: Bump[] = [];
  for (let pass = 0; pass < 2; pass++) {
    bumps = [];
    for (const e of extrema) {
      const bump = measureBump(e, pyramid, noise, fitted.baseline);
      if (bump !== undefined && failedTest(bump, noise, pyramid, duration) === undefined) bumps.push(bump);
    }
    avoid = bumps.map((b) => ({ from: b.from - 1.5 * b.sigma, to: b.to + 2 * b.sigma }));
    fitted = fitBaseline(pyramid, noise, avoid, breaks, width, workspace);
  }
  const candidates: Candidate[] = [];
  for (const e of extrema) {
    const bump = measureBump(e, pyramid, noise, fitted.baseline);
    if (bump === undefined) continue;
    const failed = failedTest(bump, noise, pyramid, duration);
    if (failed !== undefined) {
      rejected.push(failed);
      continue;
    }
    candidates.push(asCandidate(bump, trace));
  }
  const sorted = setApart(settleNeighbours(candidates), edges, grid.step);
  return { candidates: sorted.peaks, apart: sorted.apart, rejected, baseline: fitted.baseline, fitted, spikes: bridged.spikes, noise, pyramid };
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
): boolean {
  if (before?.sign === e.sign || after?.sign === e.sign) return false;
  const sides = [before, after].filter((o) => o !== undefined && !o.atEnd && o.prominence > 0.5 * e.prominence).map((o) => o!.width);
  if (sides.length === 0) return false;
  // In a crowd the valleys are the narrower ones: what points the way of the run needs more to be ground.
  const factor = (sides.length === 2 ? 1.3 : 2) * (e.sign === polarity ? 3 : 1);
  return e.width > factor * Math.max(...sides);
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

/** [signal unit] Peak-to-peak background to expect around a bump, from the noise at every coarseness up to its width. */
function background(bump: Bump, noise: ScaleNoise, pyramid: Pyramid): number {
  const grid = pyramid.levels[0]!.length;
  const place = (bump.at - pyramid.start) / (pyramid.step * grid);
  let squares = 0;
  for (let l = 0, box = pyramid.step; l < noise.level.length && (l < 4 || box <= 2 * bump.sigma); l++, box *= 2) {
    squares += noiseAt(noise, l, place) ** 2 / 3;
  }
  return rangeFactor * Math.sqrt(squares);
}

/** The first test a bump fails, if any. */
function failedTest(bump: Bump, noise: ScaleNoise, pyramid: Pyramid, duration: number): RejectedCandidate | undefined {
  const reject = (test: string, value: number, limit: number, text: string): RejectedCandidate => ({
    at: bump.at,
    height: bump.sign * bump.height,
    test,
    value,
    limit,
    text,
  });
  const h = background(bump, noise, pyramid);
  const ratio = h > 0 ? (2 * bump.height) / h : 1e12;
  if (ratio < leastSignalToNoise) {
    return reject(
      'signal-to-noise',
      ratio,
      leastSignalToNoise,
      `Stands ${ratio.toFixed(1)} times half the background above the baseline; ${leastSignalToNoise} are needed.`,
    );
  }
  const time = Math.max(bump.at - Math.min(pyramid.start, 0), duration / 50);
  const plates = (time / bump.sigma) ** 2;
  if (plates < fewestPlates) {
    return reject('width', plates, fewestPlates, `So broad that it would be ${plates.toFixed(0)} plates: background, not a peak.`);
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

/** Makes neighbours share a limit where their reaches overlap. */
function settleNeighbours(candidates: readonly Candidate[]): Candidate[] {
  return [...candidates].sort((a, b) => a.apex - b.apex);
}

export { baselineAt };
