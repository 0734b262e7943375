import type { Baseline } from '../baseline/index.js';
import { failOption, resolveOptions, type Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import { createStretch, crossOutward, fillStretch, timeAbove, type Stretch } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { platesFoleyDorsey, platesHalfHeight, platesMoments, platesTangent } from './formulas.js';
import { measureMoments, type Moments } from './moments.js';
import type { PeakMeasures, PeakPlates, PeakWidths } from './peak-measures.js';
import { fitFlankTangent } from './tangent-width.js';

/**
 * Options of {@link measurePeak}.
 *
 * @public
 */
export interface MeasureOptions {
  /**
   * [-] Half the span of the local fit around each crossing of a level, in
   * standard deviations of the flank (its half width at half height / 1.1774).
   *
   * @defaultValue 0.5
   */
  readonly crossingSpan?: number;
  /**
   * [-] Half the span of the local fit around each inflection, in standard
   * deviations of the flank.
   *
   * @defaultValue 0.6
   */
  readonly tangentSpan?: number;
}

const defaults: Required<MeasureOptions> = { crossingSpan: 0.5, tangentSpan: 0.6 };

/** Half width at half height of a Gaussian over its standard deviation, sqrt(2 ln 2). */
const halfWidthOfSigma = 1.1774100225154747;
/** Height of a Gaussian at its inflection, exp(-1/2). */
const heightAtInflection = 0.6065306597126334;
/** Blocks per standard deviation below which averaging in blocks would be felt. */
const fewestBlocks = 30;

/**
 * Measures what can be measured on one peak beyond its limits and area: widths,
 * plate numbers, tailing, asymmetry and moments. Heights and levels are those
 * of the peak above its own baseline; nothing outside its limits is looked at
 * and nothing is extrapolated: what cannot be taken is absent, and a warning
 * says why.
 *
 * Widths: outward from the apex, first crossing on each side. With at least
 * seven samples in the span (half a standard deviation of the flank on either
 * side) the crossing is the root of a local quadratic, with fewer it is on the
 * straight line between two samples. Tangent width: between the intercepts of
 * the inflection tangents with the baseline.
 *
 * Noise-free, on an exponentially modified Gaussian of 10 or more samples per
 * standard deviation and tau up to 3 standard deviations, widths are right to
 * 0.15 % (half height) and 0.06 % (10 and 5 %), tailing and asymmetry to 0.5 %,
 * the tangent width to 0.25 % (0.8 % beyond tau = sigma). White noise does not
 * bias them; at a signal-to-noise ratio of 20 (2H/h) and 10 samples per
 * standard deviation they scatter, as standard deviations, by 1.0 % (half
 * height), 1.5 % (10 %), 2.4 % (5 %), 2.3 % (tangents) and 2.8 % (tailing),
 * falling in proportion as the ratio grows.
 *
 * @param trace - The record.
 * @param peak - Where the peak lies and how high it is.
 * @param baseline - What it stands on.
 * @param options - Spans of the local fits; see {@link MeasureOptions}.
 * @param work - Space to reuse from peak to peak.
 * @returns The measures, widths in minutes.
 * @throws PeakwrightError `option-invalid` when a span is not between 0.1 and 2,
 *   `option-unknown` when an option is not one of the above.
 * @see L. S. Ettre (1993), Pure Appl. Chem. 65, 819-872; European Pharmacopoeia 2.2.46.
 *
 * @remarks
 * Cost: linear in the samples between the limits; a peak of more than 1024 is
 * measured on averages of equal blocks, at least 30 per standard deviation.
 *
 * @public
 */
export function measurePeak(
  trace: Trace,
  peak: Pick<IntegratedPeak, 'retentionTime' | 'height' | 'start' | 'end' | 'direction'>,
  baseline: Baseline,
  options: MeasureOptions = {},
  work: Stretch = createStretch(),
): PeakMeasures {
  const { crossingSpan, tangentSpan } = resolveOptions('measurePeak', defaults, options);
  for (const [name, value] of [
    ['crossingSpan', crossingSpan],
    ['tangentSpan', tangentSpan],
  ] as const) {
    if (!(value >= 0.1 && value <= 2)) failOption('measurePeak', name, 'a number from 0.1 to 2', value);
  }
  const { retentionTime: at, start, end } = peak;
  const sign = peak.direction === 'up' ? 1 : -1;
  const height = sign * peak.height;
  const warnings: Warning[] = [];
  const warn: Warn = (code, message) => void warnings.push({ code, message, at });
  const fill = (from: number, to: number): void =>
    fillStretch(work, trace.time, trace.signal, baseline, from, to, sign);
  fill(start, end);
  if (work.length < 3 || !(height > 0)) {
    const why = work.length < 3 ? 'fewer than three samples' : 'no height above its baseline';
    warn(
      'peak-not-measurable',
      `The peak at ${minutes(at)} has ${why}: no width, plate number or moment can be taken.`,
    );
    return { widths: {}, plates: {}, warnings };
  }
  const moments = measureMoments(work.time, work.value, at, work.length);
  if (moments === undefined) {
    warn(
      'moments-absent',
      `The net area or the variance of the peak at ${minutes(at)} is not positive: its moments mean nothing.`,
    );
  }
  const sigma = roughSigmas(work, at, height, start, end, fill);
  const spans = { crossing: crossingSpan, tangent: tangentSpan };
  const front = measureFlank(work, at, height, -1, sigma.front, spans);
  const back = measureFlank(work, at, height, 1, sigma.back, spans);
  const widths = widthsBetween(front, back, at, warn);
  const asymmetry = ratioAt(front.tenth, at, back.tenth, (a, b) => b / a);
  const tailingFactor = ratioAt(front.twentieth, at, back.twentieth, (a, b) => (a + b) / (2 * a));
  return {
    widths,
    plates: platesOf(at, widths, asymmetry, moments, warn),
    ...(tailingFactor === undefined ? {} : { tailingFactor }),
    ...(asymmetry === undefined ? {} : { asymmetry }),
    ...(moments === undefined ? {} : { moments: { ...moments, zeroth: sign * moments.zeroth } }),
    warnings,
  };
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
type Warn = (code: string, message: string) => void;

/** Crossings of one flank, in minutes. */
interface Flank {
  readonly half: number | undefined;
  readonly tenth: number | undefined;
  readonly twentieth: number | undefined;
  readonly tangent: number | undefined;
}

/**
 * Standard deviation of either flank from the time it spends above half height;
 * looks again close by, in finer blocks, while the blocks are too coarse for it.
 */
function roughSigmas(
  work: Stretch,
  at: number,
  height: number,
  start: number,
  end: number,
  fill: (from: number, to: number) => void,
): { front: number; back: number } {
  let from = start;
  let to = end;
  for (let pass = 0; ; pass++) {
    const front = timeAbove(work, from, at, height / 2) / halfWidthOfSigma;
    const back = timeAbove(work, at, to, height / 2) / halfWidthOfSigma;
    const spacing = (work.time[work.length - 1]! - work.time[0]!) / work.length;
    if (work.block === 1 || pass === 3 || Math.min(front, back) > fewestBlocks * spacing) return { front, back };
    const wide = Math.max(front, back, spacing);
    from = Math.max(start, at - 8 * wide);
    to = Math.min(end, at + 8 * wide);
    fill(from, to);
  }
}

/** Every crossing of one flank, each level from the crossing above it outwards. */
function measureFlank(
  work: Stretch,
  at: number,
  height: number,
  side: 1 | -1,
  rough: number,
  spans: { readonly crossing: number; readonly tangent: number },
): Flank {
  const cross = (part: number, from: number | undefined, sigma: number): number | undefined =>
    from === undefined ? undefined : crossOutward(work, from, part * height, side, spans.crossing * sigma)?.time;
  const half = cross(0.5, at, rough);
  const sigma = half === undefined ? rough : (side * (half - at)) / halfWidthOfSigma;
  const tenth = cross(0.1, half, sigma);
  const twentieth = cross(0.05, tenth, sigma);
  const inflection = cross(heightAtInflection, at, sigma);
  const tangent =
    inflection === undefined || !(sigma > 0)
      ? undefined
      : fitFlankTangent(work, inflection, side, spans.tangent * sigma);
  return { half, tenth, twentieth, tangent: tangent?.intercept };
}

function widthsBetween(front: Flank, back: Flank, at: number, warn: Warn): PeakWidths {
  const widths: Mutable<PeakWidths> = {};
  const levels = [
    ['halfHeight', 'half', 'width at half height'],
    ['tenPercent', 'tenth', 'width at 10 %'],
    ['fivePercent', 'twentieth', 'width at 5 %'],
  ] as const;
  for (const [name, level, what] of levels) {
    const from = front[level];
    const to = back[level];
    if (from !== undefined && to !== undefined && to > from) {
      widths[name] = to - from;
      continue;
    }
    const side = from !== undefined ? 'behind the apex' : to !== undefined ? 'before the apex' : 'on both sides';
    warn(
      'width-absent',
      `The peak at ${minutes(at)} has no ${what}: ${side} a valley or its limit lies above that level.`,
    );
  }
  if (front.tangent !== undefined && back.tangent !== undefined && back.tangent > front.tangent) {
    widths.tangent = back.tangent - front.tangent;
  } else {
    const why = 'a flank is cut off above its inflection, lost in noise, or has too few samples';
    warn('width-absent', `The peak at ${minutes(at)} has no tangent width: ${why}.`);
  }
  return widths;
}

/** A ratio of the front part a and the back part b at one level, when both are there. */
function ratioAt(
  front: number | undefined,
  at: number,
  back: number | undefined,
  ratio: (a: number, b: number) => number,
): number | undefined {
  if (front === undefined || back === undefined || !(at > front) || !(back > at)) return undefined;
  return ratio(at - front, back - at);
}

function platesOf(
  at: number,
  widths: PeakWidths,
  asymmetry: number | undefined,
  moments: Moments | undefined,
  warn: Warn,
): PeakPlates {
  const plates: Mutable<PeakPlates> = {};
  if (!(at > 0)) {
    warn(
      'plates-absent',
      `The peak at ${minutes(at)} does not lie after minute zero: a plate number needs a positive retention time.`,
    );
    return plates;
  }
  if (widths.halfHeight !== undefined) plates.halfHeight = platesHalfHeight(at, widths.halfHeight);
  if (widths.tangent !== undefined) plates.tangent = platesTangent(at, widths.tangent);
  if (moments !== undefined && moments.mean > 0) plates.moments = platesMoments(moments.mean, moments.variance);
  if (widths.tenPercent !== undefined && asymmetry !== undefined) {
    // What rounds to 1.00 is a symmetric peak, on whichever side of 1 the last digits fall.
    const foleyDorsey = platesFoleyDorsey(
      at,
      widths.tenPercent,
      asymmetry >= 0.995 ? Math.max(1, asymmetry) : asymmetry,
    );
    if (foleyDorsey !== undefined) {
      plates.foleyDorsey = foleyDorsey;
    } else {
      const why = `has an asymmetry of ${asymmetry.toFixed(2)}: the plate number by Foley and Dorsey holds from 1 to 2.76 only`;
      warn('plates-absent', `The peak at ${minutes(at)} ${why}.`);
    }
  }
  return plates;
}

function minutes(time: number): string {
  return `${time.toFixed(3)} min`;
}
