import { fitBaseline, type Baseline, type FittedBaseline, type Interval } from '../baseline/index.js';
import { PeakwrightError, resolveOptions } from '../core/index.js';
import type { Workspace } from '../numeric/index.js';
import {
  bridgeSpikes,
  buildPyramid,
  findEdges,
  layDecisionGrid,
  levelSteps,
  scanNoise,
  type Pyramid,
  type ScaleNoise,
  type Spike,
  type Step,
} from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import { asCandidate, withoutFarReach } from './as-candidate.js';
import { measureBump, type Bump } from './bumps.js';
import type { Candidate, RejectedCandidate } from './candidate.js';
import { asExpected, expectedSigma, expectsDip, wideEnough, widthTest, type Expectations } from './expectations.js';
import { findExtrema, type Extremum } from './extrema.js';
import { leftOver, lookFurther } from './look-further.js';
import type { FoundPeaks } from './find-peaks.js';
import { defaults, type FindPeaksOptions } from './find-peaks-options.js';
import { isGround, mainDirection } from './ground.js';
import {
  apexInside,
  broadTest,
  failedTest,
  footTest,
  isClearlyPeak,
  shapeTest,
  sideTest,
  type Limits,
} from './judge-bump.js';
import { setApart } from './set-apart.js';
import { findShoulders } from './shoulders.js';
import { surveyIntervals } from './survey.js';
import { endWidth, typicalWidth } from './widths.js';
import { without } from './without.js';

/** What {@link findPeaks} gives, and what it saw on the way. */
export interface SurveyedRun extends FoundPeaks {
  /** Lone points that were bridged before anything was looked for. */
  readonly spikes: readonly Spike[];
  /** Stretches that hold peaks, or the flanks of peaks outside the record, with room around. */
  readonly occupied: readonly Interval[];
  /** Places where the level changes at once and stays. */
  readonly steps: readonly Step[];
  readonly noise: ScaleNoise;
  readonly pyramid: Pyramid;
}

/** Fewer samples than this say nothing about noise. */
const fewestSamples = 16;
/** [sigma] How far beyond its reach a peak keeps the baseline away, in front and behind. */
const clearBefore = 1.5;
const clearAfter = 2;

/** [-] Signal-to-noise needed of what points the way of ground between peaks, over that of others. */
const oddFactor = 1.5;
const oddMost = 3;
/** Signal to noise asked of what points the way of ground between peaks: more, up to what is enough. */
const oddLeast = (least: number): number => Math.min(oddFactor * least, Math.max(least, oddMost));

/** What there is to see before there is a baseline. */
function lookAt(
  trace: Trace,
  asked: Required<FindPeaksOptions>,
  workspace: Workspace,
  counts: ((e: Extremum) => boolean) | undefined,
) {
  if (trace.time.length < fewestSamples) {
    throw new PeakwrightError(
      'trace-too-short',
      `findPeaks: ${fewestSamples} samples are needed; the trace has ${trace.time.length}.`,
      { value: trace.time.length },
    );
  }
  const grid = layDecisionGrid(trace, workspace);
  let pyramid = buildPyramid(grid, workspace);
  const noise = scanNoise(pyramid, workspace);
  const bridged = bridgeSpikes(grid, noise, workspace);
  if (bridged.spikes.length > 0) pyramid = buildPyramid(bridged.grid, workspace);
  let extrema = findExtrema(pyramid, noise, asked.leastProminence, workspace, counts);
  const duration = grid.step * (grid.count - 1);
  const width = asked.peakWidth === 'automatic' ? typicalWidth(extrema, duration, workspace) : asked.peakWidth;
  const bend = asked.sharpestBend === 'automatic' ? 4 * width : asked.sharpestBend;
  const edges = findEdges(bridged.grid, noise, 16 * width);
  const level = levelSteps(bridged.grid, edges, workspace);
  if (level.steps.length > 0) {
    pyramid = buildPyramid(level.grid, workspace);
    extrema = findExtrema(pyramid, noise, asked.leastProminence, workspace, counts);
  }
  return { pyramid, noise, extrema, width, bend, edges, steps: level.steps, spikes: bridged.spikes };
}

/** The work of {@link findPeaks}, for a run of which something may be known before. */
export function surveyRun(
  trace: Trace,
  options: FindPeaksOptions,
  workspace: Workspace,
  expected?: Expectations,
): SurveyedRun {
  const asked = resolveOptions('findPeaks', defaults, options);
  const tooNarrow: RejectedCandidate[] = [];
  const seen = lookAt(trace, asked, workspace, wideEnough(expected, tooNarrow));
  const { pyramid, noise, width, bend, steps, edges, spikes } = seen;
  let { extrema } = seen;
  const { start, step } = pyramid;
  const duration = step * (pyramid.levels[0]!.length - 1);
  const breaks = steps.map((e) => e.at);
  const layBaseline = (avoid: readonly Interval[], before?: FittedBaseline) =>
    fitBaseline(pyramid, noise, [...avoid, ...trace.gaps], breaks, width, bend, workspace, before);

  const polarity = mainDirection(pyramid, workspace);
  const range = { from: start, to: start + duration };
  const ground = groundOf(extrema, polarity, range, expected);
  const narrow = (e: Extremum, i: number) =>
    e.width < (e.atEnd ? Math.min(endWidth(extrema, i, width, ground), duration / 6) : duration / 6);
  const flanks = extrema.filter((e, i) => !ground.has(e) && narrow(e, i));
  const surveyed = surveyIntervals(flanks, pyramid, noise, workspace);
  const further = lookFurther(surveyed, seen, polarity, asked);
  const { alarms, alarmsOf } = further;
  extrema = [...extrema, ...further.extrema].sort((a, b) => a.at - b.at);
  let fitted = layBaseline([...surveyed, ...further.stretches]);
  /** Whether a bump points the way that ground between peaks would, and is not expected to. */
  const odd = ({ sign, at }: Bump): boolean => sign !== polarity && !expectsDip(expected, at, sign);
  /** The extremes that stand off the baseline as peaks would, flanks at the ends of the record, and the others with the test they failed. */
  const stand = (asked: Omit<Limits, 'duration'>) => {
    // Two objects for all bumps: one for each costs more than judging it.
    const limits = { ...asked, duration };
    const ofOdd = { ...limits, leastSignalToNoise: oddLeast(asked.leastSignalToNoise) };
    const limitsOf = (bump: Bump): Limits => (odd(bump) ? ofOdd : limits);
    return standOff(extrema, seen, fitted.baseline, limitsOf, narrow, alarmsOf);
  };
  const clear = (b: Bump): Interval => ({ from: b.from - clearBefore * b.sigma, to: b.to + clearAfter * b.sigma });
  let occupied: Interval[] = [];
  for (let pass = 0; pass < 2; pass++) {
    const low: Interval[] = [];
    const { bumps, ends } = stand(defaults);
    occupied = ends.map(clear);
    bumps.forEach((b, i) => {
      // Ground that seems to lie off the baseline shows that the baseline does.
      if (odd(b) && (ground.has(b.extremum) || footTest(bumps, i) !== undefined)) {
        low.push({ from: b.at - width, to: b.at + width });
      } else occupied.push(clear(b));
    });
    fitted = layBaseline(without(occupied, low), fitted);
  }

  const { bumps, rejected } = stand(asked);
  const candidates = bumps
    .filter((bump, i) => {
      const failed =
        (isClearlyPeak(bump, seen) ? undefined : sideTest(bumps, i)) ??
        (odd(bump) ? footTest(bumps, i) : undefined) ??
        widthTest(expected, bump.at, bump.sign * bump.height, bump.sigma);
      if (failed !== undefined) rejected.push({ ...failed, falseAlarms: alarmsOf(bump) });
      return failed === undefined;
    })
    .map((bump) => ({ ...asCandidate(bump, trace), falseAlarms: alarmsOf(bump) }))
    .sort((a, b) => a.apex - b.apex);
  takeOutBroad(candidates, rejected, expected);
  const parted = setApart(withoutFarReach(candidates), edges, step, start + duration / 4);
  const shaped =
    asked.leastSignalToNoise > 0
      ? takeOutShapeless(parted.candidates, rejected, seen, expected, alarms)
      : parted.candidates;
  rejected.push(...leftOver(further.offers, rejected, candidates, asked.falseAlarms));
  return {
    ...asExpected({ candidates: shaped, apart: parted.apart }, expected),
    rejected: [...rejected, ...tooNarrow, ...findShoulders(candidates, pyramid, noise)].sort((a, b) => a.at - b.at),
    baseline: raise(fitted.baseline, steps),
    settings: { ...asked, peakWidth: width, sharpestBend: bend },
    spikes,
    occupied,
    steps,
    noise,
    pyramid,
  };
}

/** What is seen at first. */
type Seen = ReturnType<typeof lookAt>;

/** The extremes that stand off the baseline as peaks would, flanks at the ends of the record, and the others with the test they failed. */
function standOff(
  extrema: readonly Extremum[],
  { pyramid, noise }: Seen,
  baseline: Baseline,
  limitsOf: (bump: Bump) => Limits,
  narrow: (e: Extremum, i: number) => boolean,
  alarmsOf: (bump: Bump) => number,
): { bumps: Bump[]; ends: Bump[]; rejected: RejectedCandidate[] } {
  const bumps: Bump[] = [];
  const ends: Bump[] = [];
  const rejected: RejectedCandidate[] = [];
  extrema.forEach((e, i) => {
    const bump = measureBump(e, pyramid, noise, baseline);
    if (bump === undefined) return;
    const failed = failedTest(bump, noise, pyramid, limitsOf(bump), alarmsOf);
    if (failed === undefined) bumps.push(bump);
    else {
      if (failed.test === apexInside && narrow(e, i)) ends.push(bump);
      rejected.push({ ...failed, falseAlarms: alarmsOf(bump) });
    }
  });
  return { bumps, ends, rejected };
}

/** The candidates that are shaped like peaks, or dips that are expected; the others are rejected. */
function takeOutShapeless(
  candidates: readonly Candidate[],
  rejected: RejectedCandidate[],
  { pyramid, noise }: Seen,
  expected: Expectations | undefined,
  alarms: (at: number, sign: 1 | -1, sigma: number) => number,
): Candidate[] {
  return candidates.filter((c) => {
    const sign = c.direction === 'up' ? 1 : -1;
    const failed = expectsDip(expected, c.apex, sign) ? undefined : shapeTest(c, pyramid, noise);
    if (failed !== undefined) rejected.push({ ...failed, falseAlarms: alarms(c.apex, sign, c.sigma) });
    return failed === undefined;
  });
}

/** The extremes that are ground between peaks, and not peaks that are expected to point down. */
function groundOf(
  extrema: readonly Extremum[],
  polarity: 1 | -1,
  range: Interval,
  expected: Expectations | undefined,
): Set<Extremum> {
  return new Set(
    extrema.filter(
      (e, i) => !expectsDip(expected, e.at, e.sign) && isGround(e, extrema[i - 1], extrema[i + 1], polarity, range),
    ),
  );
}

/** Takes out candidates far broader than their neighbours let expect, unless a width is known for their place. */
function takeOutBroad(
  candidates: Candidate[],
  rejected: RejectedCandidate[],
  expected: Expectations | undefined,
): void {
  for (let i = candidates.length - 1; i >= 0; i--) {
    const broad = expectedSigma(expected, candidates[i]!.apex) === undefined ? broadTest(candidates, i) : undefined;
    if (broad === undefined) continue;
    rejected.push(broad);
    candidates.splice(i, 1);
  }
}

/** A baseline with the steps that were taken off the signal. */
function raise(baseline: Baseline, steps: readonly Step[]): Baseline {
  if (steps.length === 0) return baseline;
  const value = baseline.value.map((v, i) =>
    steps.reduce((sum, { at, rise }) => (baseline.time[i]! > at ? sum + rise : sum), v),
  );
  return { ...baseline, value };
}
