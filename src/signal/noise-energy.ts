import { quantileInPlace, type Workspace } from '../numeric/index.js';
import type { Pyramid } from './pyramid.js';
import { quietMean, windowFigure, windowsOf } from './quiet-windows.js';

/** Noise by coarseness, and its strength along the run. */
export interface NoiseEnergy {
  /** [signal unit²] Mean square of the curvatures of single readings, by stretch (equal stretches of the run). */
  readonly strength: Float64Array;
  /** Whether a stretch was quiet enough to speak for itself; the others were filled from their neighbours. */
  readonly measured: readonly boolean[];
  /** [-] Mean square of the curvatures at each level over that of single readings. */
  readonly level: readonly number[];
  /** [-] Share of the windows of each level that hold noise alone. */
  readonly quiet: readonly number[];
}

/** Fewest readings in a stretch, most stretches. */
const fewestReadings = 400;
const mostStretches = 16;
/** Fewer windows than this say nothing about a level. */
const fewestWindows = 6;
/** Windows looked at per level and stretch at the most, evenly spread. */
const mostWindows = 192;
/** [-] A stretch with a smaller share of quiet windows does not speak for itself. */
const leastShare = 0.1;
/** [-] Nor does one this much stronger than the middle stretch. */
const mostStrength = 100;

/**
 * Measures the noise of a run that may be full of peaks: at the finest level stretch by
 * stretch, at the coarser ones over the run, each window relative to the
 * strength where it stands, so that noise that grows along the run stays one noise.
 */
export function measureEnergy(pyramid: Pyramid, workspace: Workspace): NoiseEnergy {
  const readings = pyramid.levels[0]!;
  let stretches = 1;
  while (2 * stretches <= mostStretches && readings.length >= 2 * stretches * fewestReadings) stretches *= 2;
  const strength = new Float64Array(stretches);
  const measured: boolean[] = [];
  const figures = workspace.take('window figures', stretches * mostWindows);
  for (let s = 0; s < stretches; s++) {
    const count = takeWindows(readings, 0, s, stretches, figures, 0);
    const quiet = quietMean(figures, count, windowsOf(0));
    strength[s] = quiet.mean;
    measured.push(count > 0 && quiet.share >= leastShare);
  }
  fillStretches(strength, measured);
  const level = [1];
  const shares = [1];
  for (let l = 1; l < pyramid.levels.length; l++) {
    const means = pyramid.levels[l]!;
    let count = 0;
    for (let s = 0; s < stretches; s++) {
      if (!measured[s]! || strength[s]! <= 0) continue;
      const from = count;
      count += takeWindows(means, l, s, stretches, figures, from);
      for (let k = from; k < count; k++) figures[k] = figures[k]! / strength[s]!;
    }
    if (count < fewestWindows) break;
    const { mean, share } = quietMean(figures, count, windowsOf(l));
    level.push(mean);
    shares.push(share);
  }
  return { strength, measured, level, quiet: shares };
}

/** Figures of the windows of one stretch of a level, from `at` on; gives their number. */
function takeWindows(
  means: Float64Array,
  level: number,
  stretch: number,
  stretches: number,
  figures: Float64Array,
  at: number,
): number {
  const { length } = windowsOf(level);
  const hop = length >> 1;
  const windows = Math.floor((means.length - 2 - length) / hop) + 1;
  if (windows < 1) return 0;
  const from = Math.floor((stretch * windows) / stretches);
  const to = Math.floor(((stretch + 1) * windows) / stretches);
  const take = Math.min(mostWindows, to - from);
  for (let k = 0; k < take; k++) {
    figures[at + k] = windowFigure(means, 1 + hop * (from + Math.floor((k * (to - from)) / take)), length);
  }
  return take;
}

/** Gives the stretches that peaks cover the strength of their neighbours, straight in between. */
function fillStretches(strength: Float64Array, measured: boolean[]): void {
  const n = strength.length;
  const known = () => measured.flatMap((is, i) => (is ? [i] : []));
  const sorted = Float64Array.from(known(), (i) => strength[i]!);
  if (sorted.length === 0) {
    // Peaks everywhere: the calmest stretch is the best there is.
    measured[strength.indexOf(Math.min(...strength))] = true;
  } else {
    const limit = mostStrength * quantileInPlace(sorted, sorted.length, 0.25);
    for (let i = 0; i < n; i++) if (strength[i]! > limit) measured[i] = false;
  }
  const sure = known();
  for (let i = 0; i < n; i++) {
    if (measured[i]!) continue;
    const before = sure.findLast((k) => k < i);
    const after = sure.find((k) => k > i);
    const a = strength[before ?? after!]!;
    const b = strength[after ?? before!]!;
    const place = before === undefined || after === undefined ? 0 : (i - before) / (after - before);
    strength[i] = a + (b - a) * place;
  }
}
