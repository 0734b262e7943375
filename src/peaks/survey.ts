import type { Interval } from '../baseline/index.js';
import { quantileInPlace, type Workspace } from '../numeric/index.js';
import { centreOf, indexAt, levelWithin, meanLength, noiseAt, type Pyramid, type ScaleNoise } from '../signal/index.js';
import type { Extremum } from './extrema.js';

/** [widths] No flank is followed further than this from its extreme. */
const furthest = 6;
/** [-] Share of its height by which a flank falls from one mean to the next; what falls less may be drift. */
const leastFall = 0.02;

/**
 * The stretches a first baseline should avoid: from each extreme down both
 * flanks until they no longer run down, and one width more. Nothing is known of
 * a baseline yet, so only slopes are looked at, less the drift of the run.
 */
export function surveyIntervals(
  extrema: readonly Extremum[],
  pyramid: Pyramid,
  noise: ScaleNoise,
  workspace: Workspace,
): Interval[] {
  const drift = medianDrift(pyramid, workspace);
  return extrema.map((e) => {
    const left = flankEnd(e, -1, pyramid, noise, drift);
    const right = flankEnd(e, 1, pyramid, noise, drift);
    return { from: left - 0.6 * e.width, to: right + 0.8 * e.width };
  });
}

/** [min] Where the flank on one side stops running away from the extreme. */
function flankEnd(e: Extremum, side: 1 | -1, pyramid: Pyramid, noise: ScaleNoise, drift: number): number {
  const level = levelWithin(pyramid, e.level, e.width / 5);
  const means = pyramid.levels[level]!;
  const bin = meanLength(pyramid, level);
  const start = indexAt(pyramid, level, e.at);
  // Down from the top at least as far as half a width, whatever the noise does there.
  const least = Math.ceil((0.6 * e.width) / bin);
  const most = Math.ceil((furthest * e.width) / bin);
  let calm = 0;
  let i = start;
  for (let k = 1; k <= most; k++) {
    const next = i + side;
    if (next < 0 || next >= means.length) break;
    const run = e.sign * (means[i]! - means[next]! + side * drift * bin);
    const limit = Math.max(1.3 * noiseAt(noise, level, next / means.length), leastFall * e.prominence);
    calm = run > limit ? 0 : calm + 1;
    i = next;
    if (k >= least && calm >= 2) break;
  }
  return centreOf(pyramid, level, i);
}

/** [signal unit per min] Median slope of the run at a coarse level: drift, when most of the run is baseline. */
export function medianDrift(pyramid: Pyramid, workspace: Workspace): number {
  let level = pyramid.levels.length - 1;
  while (level > 0 && pyramid.levels[level]!.length < 100) level--;
  const means = pyramid.levels[level]!;
  const slopes = workspace.take('drift', means.length);
  for (let i = 0; i + 1 < means.length; i++) slopes[i] = means[i + 1]! - means[i]!;
  return quantileInPlace(slopes, Math.max(1, means.length - 1), 0.5) / meanLength(pyramid, level);
}
