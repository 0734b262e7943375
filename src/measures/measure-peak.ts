import type { Baseline } from '../baseline/index.js';
import { checkNumber, defined, resolveOptions, type Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import { crossOutward, halfWidthOfSigma, liftPeak, type Polyline } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { platesFoleyDorsey, platesHalfHeight, platesMoments, platesTangent } from './formulas.js';
import { measureMoments, type Moments } from './moments.js';
import type { PeakMeasures, PeakPlates, PeakWidths } from './peak-measures.js';
import { tangentIntercept } from './tangent-intercept.js';

/**
 * Options of {@link measurePeak}.
 *
 * @public
 */
export interface MeasureOptions {
  /**
   * [-] Half the span of the local fit around each crossing of a level, in
   * standard deviations of the flank (its half width at half height / 1.1774); 1.6 times that at half height.
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

/** Height of a Gaussian at its inflection, exp(-1/2). */
const heightAtInflection = 0.6065306597126334;

/**
 * Measures what can be measured on one peak beyond its limits and area: widths,
 * plate numbers, tailing, asymmetry and moments. Heights and levels are those
 * of the peak above its own baseline; nothing outside its limits is looked at
 * and nothing is extrapolated: what cannot be taken is absent, and a warning
 * says why.
 *
 * Widths: outward from the apex, first crossing on each side. With at least
 * seven samples in the span (half a standard deviation of the flank on either
 * side) the crossing is the root of a local quadratic, at half height of a quartic over
 * 1.6 times that span, which noise moves as little; with fewer it is on the
 * straight line between two samples. Tangent width: between the intercepts of
 * the inflection tangents with the baseline.
 *
 * Noise-free, on an exponentially modified Gaussian of 10 or more samples per
 * standard deviation and tau up to 3 standard deviations, widths are right to
 * 0.03 % (half height) and 0.06 % (10 and 5 %), tailing and asymmetry to 0.5 %,
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
): PeakMeasures {
  const caller = 'measurePeak';
  const spans = resolveOptions(caller, defaults, options);
  for (const name of ['crossingSpan', 'tangentSpan'] as const) {
    checkNumber(caller, name, spans[name], 'a number from 0.1 to 2', (v) => v >= 0.1 && v <= 2);
  }
  const { retentionTime: at, start, end } = peak;
  const sign = peak.direction === 'up' ? 1 : -1;
  const height = sign * peak.height;
  const warnings: Warning[] = [];
  const warn = (code: string, why: string): void => {
    warnings.push({ code, message: `The peak at ${at.toFixed(3)} min ${why}`, at });
  };
  const {
    whole,
    near,
    front: frontSigma,
    back: backSigma,
  } = liftPeak(trace.time, trace.signal, baseline, start, end, sign, at, height);
  const isShort = whole.time.length < 3;
  if (isShort || !(height > 0)) {
    const why = isShort ? 'fewer than three samples' : 'no height above its baseline';
    warn('peak-not-measurable', `has ${why}: no width, plate number or moment can be taken.`);
    return { widths: {}, plates: {}, warnings };
  }
  const moments = measureMoments(whole.time, whole.value, at);
  if (!moments) warn('moments-absent', 'has a net area or variance that is not positive: its moments mean nothing.');
  const front = measureFlank(near, at, height, -1, frontSigma, spans);
  const back = measureFlank(near, at, height, 1, backSigma, spans);
  const widths: { -readonly [K in keyof PeakWidths]: number } = {};
  for (const [name, level] of levels) {
    const width = front[name] + back[name];
    if (width > 0) widths[name] = width;
    else warn('width-absent', `has no width at ${level}: a flank ends above it or is lost in noise.`);
  }
  const { tenPercent, fivePercent } = widths;
  const asymmetry = tenPercent && back.tenPercent / front.tenPercent;
  const plates = platesOf(at, widths, asymmetry, moments);
  if (!(at > 0)) {
    warn('plates-absent', 'does not lie after minute zero: a plate number needs a positive retention time.');
  } else if (asymmetry && plates.foleyDorsey === undefined) {
    const why = 'the plate number by Foley and Dorsey holds from 1 to 2.76 only';
    warn('plates-absent', `has an asymmetry of ${asymmetry.toFixed(2)}: ${why}.`);
  }
  return defined({
    widths,
    plates,
    tailingFactor: fivePercent && fivePercent / (2 * front.fivePercent),
    asymmetry,
    moments: moments && { ...moments, zeroth: sign * moments.zeroth },
    warnings,
  });
}

/** The plate numbers that can be taken. */
function platesOf(
  at: number,
  { halfHeight, tangent, tenPercent }: PeakWidths,
  asymmetry: number | undefined,
  moments: Moments | undefined,
): PeakPlates {
  if (!(at > 0)) return {};
  return defined({
    halfHeight: halfHeight && platesHalfHeight(at, halfHeight),
    tangent: tangent && platesTangent(at, tangent),
    foleyDorsey:
      tenPercent &&
      asymmetry &&
      // What rounds to 1.00 is a symmetric peak, on whichever side of 1 the last digits fall.
      platesFoleyDorsey(at, tenPercent, asymmetry >= 0.995 ? Math.max(1, asymmetry) : asymmetry),
    moments: moments && platesMoments(moments.mean, moments.variance),
  });
}

/** The widths and how a message names the level they are taken at. */
const levels = [
  ['halfHeight', 'half height'],
  ['tenPercent', '10 %'],
  ['fivePercent', '5 %'],
  ['tangent', 'the tangents'],
] as const;

/** [min] Distances from the apex outward to the crossings of one flank, each found from the one above; NaN for none. */
function measureFlank(
  curve: Polyline,
  at: number,
  height: number,
  side: 1 | -1,
  rough: number,
  { crossingSpan, tangentSpan }: Required<MeasureOptions>,
): Required<PeakWidths> {
  const cross = (part: number, from: number | undefined, sigma: number, degree: 2 | 4 = 2): number | undefined =>
    from === undefined ? undefined : crossOutward(curve, from, part * height, side, crossingSpan * sigma, degree);
  const half = cross(0.5, at, rough, 4);
  const sigma = half === undefined ? rough : (side * (half - at)) / halfWidthOfSigma;
  const tenth = cross(0.1, half, sigma);
  const twentieth = cross(0.05, tenth, sigma);
  const inflection = cross(heightAtInflection, at, sigma);
  const tangent = inflection === undefined ? undefined : tangentIntercept(curve, inflection, side, tangentSpan * sigma);
  const out = (crossing = NaN): number => Math.max(0, side * (crossing - at)) || NaN;
  return { halfHeight: out(half), tenPercent: out(tenth), fivePercent: out(twentieth), tangent: out(tangent) };
}
