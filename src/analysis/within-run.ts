import { baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { defined } from '../core/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Noise } from '../signal/index.js';
import type { Peak } from './analysis.js';
import { noiseOfMean } from './noise-of-mean.js';

/**
 * Standard uncertainties of what is measured on a peak, from the noise of this
 * very run and the baseline under it. They say nothing of how the next injection
 * differs from this one. Absent where the measure itself is.
 *
 * @public
 */
export interface WithinRun {
  /** [signal unit] Of `height`. */
  readonly height: number;
  /** [min] Of `retentionTime`. */
  readonly retentionTime?: number;
  /** [min] Of `widths.halfHeight`. */
  readonly widthHalfHeight?: number;
  /** [-] Of `plates.halfHeight`. */
  readonly platesHalfHeight?: number;
  /** [-] Of `tailingFactor`. */
  readonly tailingFactor?: number;
  /** [-] Of `asymmetry`. */
  readonly asymmetry?: number;
  /** [-] Of `resolution.halfHeight`. */
  readonly resolutionHalfHeight?: number;
}

type Measured = Pick<
  Peak,
  | 'retentionTime'
  | 'height'
  | 'start'
  | 'end'
  | 'area'
  | 'widths'
  | 'plates'
  | 'tailingFactor'
  | 'asymmetry'
  | 'areaUncertaintyParts'
>;

/**
 * Factors of the noise of a mean over one standard deviation: of the value of a
 * quartic over 0.8 standard deviations on either side at its centre, of its
 * slope there (4.28, and more because the narrower flank, a little narrow by noise, sets the span), and of the value of a quadratic over half of one. With Legendre polynomials
 * the variance of a value over that of a reading is the sum of (2k + 1) P_k(0)² over their number,
 * that of a slope the sum of (2k + 1) P_k'(0)².
 */
const ofApex = 1.482;
const ofSlope = 4.9;
const ofCrossing = 1.5;
/** [-] Angular frequency at which that slope looks at the noise, in one over standard deviations. */
const rateOfSlope = 4;
const apexSpan = 0.8;
const fewestInFit = 7;
/** [-] Of the straight line between two samples, over the noise of one. */
const ofTwoSamples = 0.8;
/** [-] What the local fits themselves are off by on a Gaussian: of the height, and of the width at half height. */
const ofFittedHeight = 0.0003;
const ofFittedWidth = 0.0004;
const widthOfSigma = 2.3548200450309493;

/** [-] What division leaves open of the height and of the width, over what it leaves open of the area; our own, from simulated pairs. */
const ofDividedHeight = 0.65;
const ofDividedWidth = 0.5;

/** A peak as the propagation needs it. */
interface Situation {
  /** [signal unit] */
  readonly height: number;
  /** [min] */
  readonly sigma: number;
  /** [signal unit] Of the value of the local fit at a crossing, of the height by noise, and of the baseline. */
  readonly atCrossing: number;
  readonly atApex: number;
  readonly level: number;
  /** [min] Of the apex. */
  readonly time: number;
  /** [-] What division leaves open of the area. */
  readonly divided: number;
}

/**
 * Carries the noise of the local fits at the apex and at the crossings through
 * the formulas (law of propagation, JCGM 100:2008, 5.2): divided by the slope a
 * deviation of the signal is one of the time. A level follows the height, and
 * baseline and level move all crossings together: both are counted as they are;
 * the readings that the fits at apex and crossing share are counted as different ones. For a
 * peak divided by a fit, what division and shape leave open of its area is added in
 * proportion to the ratios of its flanks, and in part to height and widths: a bound more than a propagation.
 *
 * @param step - [min] Distance of the samples.
 * @param shift - [min] How far a neighbour draws the maximum of the trace off that of the curve.
 * @returns Nothing for a peak without height.
 */
export function withinRun(
  peak: Measured,
  noise: Noise,
  baseline: Baseline,
  step: number,
  shift: number,
): WithinRun | undefined {
  const { retentionTime: at, widths, tailingFactor, asymmetry, plates } = peak;
  const height = Math.abs(peak.height);
  if (!(height > 0)) return undefined;
  const width = widths.halfHeight;
  const here = situationOf(peak, height, noise, baseline, step);
  const ofWidth = width === undefined ? undefined : widthUncertainty(here, width);
  const tenth = sidesOf(widths.tenPercent, asymmetry);
  const twentieth = sidesOf(widths.fivePercent, tailingFactor === undefined ? undefined : 2 * tailingFactor - 1);
  const apart = tenth && twentieth && ([twentieth[0] - tenth[0], twentieth[1] - tenth[1]] as const);
  const ofTailing = twentieth && ratioUncertainty(here, 0.05, gaussian.twentieth, twentieth, apart);
  return defined({
    height: norm(here.atApex, here.level, ofDividedHeight * here.divided * height, ofFittedHeight * height),
    retentionTime: norm(here.time, shift),
    widthHalfHeight: ofWidth,
    platesHalfHeight:
      plates.halfHeight && ofWidth && width && 2 * plates.halfHeight * norm(here.time / at, ofWidth / width),
    tailingFactor: ofTailing && ofTailing / 2,
    asymmetry: tenth && ratioUncertainty(here, 0.1, gaussian.tenth, tenth, apart),
  });
}

function situationOf(peak: Measured, height: number, noise: Noise, baseline: Baseline, step: number): Situation {
  const { retentionTime: at, widths, area, start, end, areaUncertaintyParts: parts } = peak;
  const sigma = (widths.halfHeight ?? Math.abs(area) / 60 / height / 1.0645) / widthOfSigma;
  const reading = polylineAt(noise.along, at);
  const mean = noiseOfMean(reading, noise.correlation, sigma / step);
  // What the fit leaves open of the level says more than the baseline of the run.
  const open = parts === undefined ? 0 : parts.baseline / (60 * (end - start));
  const left = parts?.division === undefined ? 0 : norm(parts.division, parts.shape ?? 0);
  const isSparse = (2 * apexSpan * sigma) / step < fewestInFit;
  return {
    height,
    sigma,
    atCrossing: sigma / step < fewestInFit ? ofTwoSamples * reading : ofCrossing * mean,
    atApex: isSparse ? reading : ofApex * mean,
    level: Math.max(baselineUncertaintyAt(baseline, at), open),
    // Of three samples: the difference of the outer two over the bend between them.
    time: isSparse
      ? (reading * sigma * sigma) / (Math.SQRT2 * step * height)
      : (ofSlope * mean * sigma) / height / slowness(noise, step, sigma),
    divided: area === 0 ? 0 : left / Math.abs(area),
  };
}

/** [-] What a slope feels less of slow noise than a mean does: a filter of time constant step r / (1 - r), at the rate of the slope. */
function slowness({ correlation }: Noise, step: number, sigma: number): number {
  const r = Math.min(Math.max(correlation, 0), 0.99);
  const x = (rateOfSlope * step * r) / (1 - r) / sigma;
  return Math.sqrt(1 + x * x);
}

/** [min] Of the width at half height: each crossing by itself, and both together by height and baseline. */
function widthUncertainty({ height, atCrossing, atApex, level, divided }: Situation, width: number): number {
  const slope = (gaussian.half * height) / width;
  const each = (Math.SQRT2 * atCrossing) / slope;
  return norm(each, atApex / slope, level / slope, ofDividedWidth * divided * width, ofFittedWidth * width);
}

/** [-] Of the distance behind the apex over that before it, at a share of the height. */
function ratioUncertainty(
  { height, atCrossing, atApex, level, time, divided }: Situation,
  share: number,
  squared: number,
  [front, back]: Sides,
  apart: Sides | undefined,
): number {
  const fall = (out: number, side: 0 | 1) => share * height * steepness(out, squared, apart?.[side]) * out;
  const [f, b] = [fall(front, 0), fall(back, 1)];
  const together = 1 / b - 1 / f;
  return (
    (back / front) *
    norm(
      atCrossing / f,
      atCrossing / b,
      share * atApex * together,
      (1 - share) * level * together,
      time * (1 / front + 1 / back),
      divided,
    )
  );
}

/** [-] 2 ln(1 / share): the relative slope of a Gaussian times its distance from the apex. */
const gaussian = { half: 1.3862943611198906, tenth: 4.605170185988092, twentieth: 5.991464547107982 };
const ln2 = 0.6931471805599453;

/** [min] Distances of the crossings of a level from the apex, in front of it and behind. */
type Sides = readonly [front: number, back: number];

/** From the width and back over front. */
function sidesOf(width: number | undefined, ratio: number | undefined): Sides | undefined {
  if (width === undefined || ratio === undefined || !(ratio > 0)) return undefined;
  const front = width / (1 + ratio);
  return [front, width - front];
}

/**
 * [1 / min] Relative slope of a flank: that of a Gaussian, or less on a tail, by how far 10 and 5 % are apart; the slope
 * at 5 % of a Gaussian is 1.03 times that between.
 */
function steepness(out: number, squared: number, apart: number | undefined): number {
  const most = squared / out;
  return apart === undefined || !(apart > 0) ? most : Math.min(most, Math.max(most / 3, (1.03 * ln2) / apart));
}

/** Square root of the sum of squares. */
function norm(...parts: readonly number[]): number {
  let sum = 0;
  for (const part of parts) sum += part * part;
  return Math.sqrt(sum);
}
