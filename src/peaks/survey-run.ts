import { fitBaseline, type Baseline, type FittedBaseline, type Interval } from '../baseline/index.js';
import { PeakwrightError, resolveOptions } from '../core/index.js';
import { joinStretches, type Workspace } from '../numeric/index.js';
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
import { chanceOf, falseAlarms, findOffers, offered } from './false-alarms.js';
import type { FoundPeaks } from './find-peaks.js';
import { defaults, type FindPeaksOptions } from './find-peaks-options.js';
import { isGround, mainDirection } from './ground.js';
import { apexInside, broadTest, failedTest, footTest, shapeTest, sideTest, type Limits } from './judge-bump.js';
import { likeness } from './likeness.js';
import { findOnSlopes } from './on-slopes.js';
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
  const gaps = trace.gaps;
  const layBaseline = (avoid: readonly Interval[], before?: FittedBaseline) =>
    fitBaseline(pyramid, noise, [...avoid, ...gaps], breaks, width, bend, workspace, before);

  const polarity = mainDirection(pyramid, workspace);
  const range = { from: start, to: start + duration };
  const ground = groundOf(extrema, polarity, range, expected);
  const narrow = (e: Extremum, i: number) =>
    e.width < (e.atEnd ? Math.min(endWidth(extrema, i, width, ground), duration / 6) : duration / 6);
  const flanks = extrema.filter((e, i) => !ground.has(e) && narrow(e, i));
  const surveyed = surveyIntervals(flanks, pyramid, noise, workspace);
  const chance = chanceOf(pyramid, noise, width);
  const taken = joinStretches(surveyed);
  const stands = ({ significance }: Extremum): boolean => significance >= asked.leastProminence;
  const onSlopes = findOnSlopes(taken, polarity, pyramid, noise, chance.finest).filter(stands);
  if (onSlopes.length > 0) {
    extrema = [...extrema, ...onSlopes].sort((a, b) => a.at - b.at);
    surveyed.push(...onSlopes.map(({ at, width: w }) => ({ from: at - 1.6 * w, to: at + 1.8 * w })));
  }
  const alarms = (at: number, sign: 1 | -1, sigma: number): number => falseAlarms(at, sign, sigma, pyramid, chance);
  const alarmsOf = ({ at, sign, sigma }: Bump): number => alarms(at, sign, sigma);
  const offers = findOffers(onSlopes.length > 0 ? joinStretches(surveyed) : taken, pyramid, chance);
  const accepted = offers
    .filter((o) => o.falseAlarms <= asked.falseAlarms && standsAlone(o.extremum, polarity, width, pyramid, noise))
    .map((o) => o.extremum)
    .filter(stands);
  if (accepted.length > 0) {
    extrema = [...extrema, ...accepted].sort((a, b) => a.at - b.at);
    surveyed.push(...accepted.map(({ before: from, after: to }) => ({ from, to })));
  }
  let fitted = layBaseline(surveyed);
  /** Whether a bump points the way that ground between peaks would, and is not expected to. */
  const odd = ({ sign, at }: Bump): boolean => sign !== polarity && !expectsDip(expected, at, sign);
  /** The extremes that stand off the baseline as peaks would, flanks at the ends of the record, and the others with the test they failed. */
  const stand = (
    asked: Omit<Limits, 'duration'> & { readonly falseAlarms: number },
  ): { bumps: Bump[]; ends: Bump[]; rejected: RejectedCandidate[] } => {
    const limits = { ...asked, duration };
    const bumps: Bump[] = [];
    const ends: Bump[] = [];
    const rejected: RejectedCandidate[] = [];
    extrema.forEach((e, i) => {
      const bump = measureBump(e, pyramid, noise, fitted.baseline);
      if (bump === undefined) return;
      const least = odd(bump) ? oddLeast(asked.leastSignalToNoise) : asked.leastSignalToNoise;
      const failed = failedTest(bump, noise, pyramid, { ...limits, leastSignalToNoise: least }, alarmsOf);
      if (failed === undefined) bumps.push(bump);
      else {
        if (failed.test === apexInside && narrow(e, i)) ends.push(bump);
        rejected.push({ ...failed, falseAlarms: alarmsOf(bump) });
      }
    });
    return { bumps, ends, rejected };
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
        sideTest(bumps, i) ??
        (odd(bump) ? footTest(bumps, i) : undefined) ??
        widthTest(expected, bump.at, bump.sign * bump.height, bump.sigma);
      if (failed !== undefined) rejected.push({ ...failed, falseAlarms: alarmsOf(bump) });
      return failed === undefined;
    })
    .map((bump) => ({ ...asCandidate(bump, trace), falseAlarms: alarmsOf(bump) }))
    .sort((a, b) => a.apex - b.apex);
  takeOutBroad(candidates, rejected, expected);
  const { leastProminence, leastSignalToNoise, fewestPlates, falseAlarms: most } = asked;
  const parted = setApart(withoutFarReach(candidates), edges, step, start + duration / 4);
  const shaped = parted.candidates.filter((c) => {
    const asksShape = leastSignalToNoise > 0 && !expectsDip(expected, c.apex, c.direction === 'up' ? 1 : -1);
    const failed = asksShape ? shapeTest(c, pyramid, noise) : undefined;
    if (failed !== undefined) {
      rejected.push({ ...failed, falseAlarms: alarms(c.apex, c.direction === 'up' ? 1 : -1, c.sigma) });
    }
    return failed === undefined;
  });
  for (const offer of offers) {
    const { at, before, after } = offer.extremum;
    if (accepted.includes(offer.extremum) || rejected.some((r) => r.at > before && r.at < after)) continue;
    if (candidates.every(({ from, to }) => at < from || at > to)) rejected.push(offered(offer, asked.falseAlarms));
  }
  return {
    ...asExpected({ candidates: shaped, apart: parted.apart }, expected),
    rejected: [...rejected, ...tooNarrow, ...findShoulders(candidates, pyramid, noise)].sort((a, b) => a.at - b.at),
    baseline: raise(fitted.baseline, steps),
    settings: {
      peakWidth: width,
      sharpestBend: bend,
      leastProminence,
      leastSignalToNoise,
      fewestPlates,
      falseAlarms: most,
    },
    spikes,
    occupied,
    steps,
    noise,
    pyramid,
  };
}

/** Whether an offer points the way of the run, is no broader than peaks are, and has the shape of one. */
function standsAlone(e: Extremum, polarity: 1 | -1, width: number, pyramid: Pyramid, noise: ScaleNoise): boolean {
  const sigma = e.width / 2.354820045030949;
  const look = { at: e.at, sign: e.sign, sigma, before: true, after: true };
  return e.sign === polarity && sigma < 4 * width && (likeness(look, pyramid, noise, 3) ?? 0) >= 3;
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
