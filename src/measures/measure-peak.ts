import type { Baseline } from '../baseline/index.js';
import { failOption, resolveOptions, type Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import { createStretch, crossOutward, fillStretch, timeAbove, type Stretch } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { platesFoleyDorsey, platesHalfHeight, platesMoments, platesTangent } from './formulas.js';
import { measureMoments } from './moments.js';
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
 * Cost: linear in the samples between the limits; a peak of more than 4096 is
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
  const warnings: Warning[] = [];
  const at = peak.retentionTime;
  const warn = (code: string, message: string): void => void warnings.push({ code, message, at });
  const sign = peak.direction === 'up' ? 1 : -1;
  const height = sign * peak.height;
  fillStretch(work, trace.time, trace.signal, baseline, peak.start, peak.end, sign);
  if (work.length < 3 || !(height > 0)) {
    warn(
      'peak-not-measurable',
      `The peak at ${minutes(at)} has ${work.length < 3 ? 'fewer than three samples' : 'no height above its baseline'}: no width, plate number or moment can be taken.`,
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

  // Standard deviation of either flank, first roughly; then again in finer blocks when they turn out too coarse.
  let front = 0;
  let back = 0;
  let from = peak.start;
  let to = peak.end;
  for (let pass = 0; pass < 4; pass++) {
    front = timeAbove(work, from, at, height / 2) / halfWidthOfSigma;
    back = timeAbove(work, at, to, height / 2) / halfWidthOfSigma;
    const spacing = (work.time[work.length - 1]! - work.time[0]!) / work.length;
    const wide = Math.max(front, back, spacing);
    if (work.block === 1 || Math.min(front, back) > fewestBlocks * spacing) break;
    from = Math.max(peak.start, at - 8 * wide);
    to = Math.min(peak.end, at + 8 * wide);
    fillStretch(work, trace.time, trace.signal, baseline, from, to, sign);
  }

  const cross = (part: number, side: 1 | -1, sigma: number, start: number): number | undefined =>
    crossOutward(work, start, part * height, side, crossingSpan * sigma)?.time;
  const levels = (side: 1 | -1, rough: number): Flank => {
    const half = cross(0.5, side, rough, at);
    const sigma = half === undefined ? rough : (side * (half - at)) / halfWidthOfSigma;
    const tenth = half === undefined ? undefined : cross(0.1, side, sigma, half);
    const twentieth = tenth === undefined ? undefined : cross(0.05, side, sigma, tenth);
    const inflection = cross(0.6065306597126334, side, sigma, at);
    const tangent =
      inflection === undefined || !(sigma > 0)
        ? undefined
        : fitFlankTangent(work, inflection, side, tangentSpan * sigma);
    return { half, tenth, twentieth, tangent: tangent?.intercept };
  };
  const a = levels(-1, front);
  const b = levels(1, back);

  const widths: Mutable<PeakWidths> = {};
  const width = (name: keyof PeakWidths, what: string, start: number | undefined, end: number | undefined): void => {
    if (start !== undefined && end !== undefined && end > start) {
      widths[name] = end - start;
    } else {
      const side = start === undefined ? (end === undefined ? 'both sides' : 'the front') : 'the back';
      warn(
        'width-absent',
        `The peak at ${minutes(at)} has no ${what}: on ${side} a valley or its limit lies above that level.`,
      );
    }
  };
  width('halfHeight', 'width at half height', a.half, b.half);
  width('tenPercent', 'width at 10 %', a.tenth, b.tenth);
  width('fivePercent', 'width at 5 %', a.twentieth, b.twentieth);
  if (a.tangent !== undefined && b.tangent !== undefined && b.tangent > a.tangent) {
    widths.tangent = b.tangent - a.tangent;
  } else {
    warn(
      'width-absent',
      `The peak at ${minutes(at)} has no tangent width: a flank is cut off above its inflection or has too few samples.`,
    );
  }

  const asymmetry =
    a.tenth !== undefined && b.tenth !== undefined && at > a.tenth ? (b.tenth - at) / (at - a.tenth) : undefined;
  const tailingFactor =
    a.twentieth !== undefined && b.twentieth !== undefined && at > a.twentieth
      ? (b.twentieth - a.twentieth) / (2 * (at - a.twentieth))
      : undefined;
  const plates: Mutable<PeakPlates> = {};
  if (at > 0) {
    if (widths.halfHeight !== undefined) plates.halfHeight = platesHalfHeight(at, widths.halfHeight);
    if (widths.tangent !== undefined) plates.tangent = platesTangent(at, widths.tangent);
    if (widths.tenPercent !== undefined && asymmetry !== undefined) {
      const foleyDorsey = platesFoleyDorsey(
        at,
        widths.tenPercent,
        asymmetry >= 0.995 ? Math.max(1, asymmetry) : asymmetry,
      );
      if (foleyDorsey !== undefined) plates.foleyDorsey = foleyDorsey;
      else
        warn(
          'plates-absent',
          `The peak at ${minutes(at)} has an asymmetry of ${asymmetry.toFixed(2)}: the plate number by Foley and Dorsey holds from 1 to 2.76 only.`,
        );
    }
    if (moments !== undefined && moments.mean > 0) plates.moments = platesMoments(moments.mean, moments.variance);
  } else {
    warn(
      'plates-absent',
      `The peak at ${minutes(at)} does not lie after the injection: a plate number needs a positive retention time.`,
    );
  }
  return {
    widths,
    plates,
    ...(tailingFactor === undefined ? {} : { tailingFactor }),
    ...(asymmetry === undefined ? {} : { asymmetry }),
    ...(moments === undefined ? {} : { moments: { ...moments, zeroth: sign * moments.zeroth } }),
    warnings,
  };
}

/** Crossings of one flank, in minutes. */
interface Flank {
  readonly half: number | undefined;
  readonly tenth: number | undefined;
  readonly twentieth: number | undefined;
  readonly tangent: number | undefined;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

function minutes(time: number): string {
  return `${time.toFixed(3)} min`;
}
