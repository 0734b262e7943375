import { baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { defined } from '../core/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Noise } from '../signal/index.js';
import type { Peak } from './analysis.js';

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
const fewestInFit = 7;
/** [-] What the local fits themselves are off by on a Gaussian: of the height, and of the width at half height. */
const ofFittedHeight = 0.0003;
const ofFittedWidth = 0.0005;
const widthOfSigma = 2.3548200450309493;

/** [-] What division leaves open of the height and of the width, over what it leaves open of the area; our own, from simulated pairs. */
const ofDividedHeight = 0.45;
const ofDividedWidth = 0.3;

function square(x: number): number {
  return x * x;
}

/** Deviations at the crossings of one level, outward. */
interface Crossings {
  /** [min] Distance from the apex to the front, and to the back. */
  readonly front: number;
  readonly back: number;
  /** [min²] Variance of either crossing by the readings there. */
  readonly ownFront: number;
  readonly ownBack: number;
  /** [min] What one standard deviation of the height, and of the baseline, moves the front and the back by. */
  readonly shared: readonly (readonly [front: number, back: number])[];
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
 */
export function withinRun(
  peak: Measured,
  noise: Noise,
  baseline: Baseline,
  step: number,
  shift: number,
): WithinRun | undefined {
  const { retentionTime: at, widths, tailingFactor, asymmetry, plates, areaUncertaintyParts: parts } = peak;
  const height = Math.abs(peak.height);
  const width = widths.halfHeight;
  if (!(height > 0)) return undefined;
  const sigma = (width ?? Math.abs(peak.area) / 60 / height / 1.0645) / widthOfSigma;
  const reading = polylineAt(noise.along, at);
  const mean = noiseOfMean(reading, noise.correlation, sigma / step);
  const level = Math.max(
    baselineUncertaintyAt(baseline, at),
    parts === undefined ? 0 : parts.baseline / (60 * (peak.end - peak.start)),
  );
  const open =
    parts === undefined ? 0 : (parts.division ?? 0) ** 2 + (parts.division === undefined ? 0 : (parts.shape ?? 0) ** 2);
  const divided = peak.area === 0 ? 0 : Math.sqrt(open) / Math.abs(peak.area);
  const isSparse = (1.6 * sigma) / step < fewestInFit;
  const ownHeight = isSparse ? reading : ofApex * mean;
  const bend = height / (sigma * sigma);
  const ownTime = isSparse ? reading / (Math.SQRT2 * step * bend) : (ofSlope * mean * sigma) / height;
  const crossingsOf = (share: number, front: number, back: number, steepness: (out: number) => number): Crossings => {
    const side = (out: number) => {
      const slope = share * height * steepness(out);
      const own = sigma / step < fewestInFit ? 0.8 * reading : ofCrossing * mean;
      return { own: (own / slope) ** 2, shared: [(share * ownHeight) / slope, ((1 - share) * level) / slope] };
    };
    const [f, b] = [side(front), side(back)];
    return { front, back, ownFront: f.own, ownBack: b.own, shared: f.shared.map((s, i) => [s, b.shared[i]!]) };
  };
  const half = width === undefined ? undefined : crossingsOf(0.5, width / 2, width / 2, (d) => gaussian.half / d);
  const widthVariance =
    half &&
    half.ownFront +
      half.ownBack +
      half.shared.reduce((sum, [f, b]) => sum + (f + b) ** 2, 0) +
      (square(ofDividedWidth * divided) + square(ofFittedWidth)) * width! * width!;
  const tenth = sidesOf(widths.tenPercent, asymmetry);
  const twentieth = sidesOf(widths.fivePercent, tailingFactor === undefined ? undefined : 2 * tailingFactor - 1);
  const ratioDeviation = (sides: Sides | undefined, share: number, squared: number): number | undefined => {
    if (sides === undefined) return undefined;
    const { front, back } = sides;
    const c = crossingsOf(share, front, back, (out) =>
      steepness(out, squared, out === front ? 'front' : 'back', tenth, twentieth),
    );
    const inverse = 1 / front + 1 / back;
    const variance =
      c.ownFront / (front * front) +
      c.ownBack / (back * back) +
      (ownTime * inverse) ** 2 +
      c.shared.reduce((sum, [f, b]) => sum + (b / back - f / front) ** 2, 0);
    return (back / front) * Math.sqrt(variance + divided * divided);
  };
  const ofTailing = ratioDeviation(twentieth, 0.05, gaussian.twentieth);
  return defined({
    height: Math.sqrt(
      ownHeight * ownHeight +
        level * level +
        (square(ofDividedHeight * divided) + square(ofFittedHeight)) * height * height,
    ),
    retentionTime: Math.sqrt(ownTime * ownTime + shift * shift),
    widthHalfHeight: widthVariance === undefined ? undefined : Math.sqrt(widthVariance),
    platesHalfHeight:
      plates.halfHeight === undefined || widthVariance === undefined
        ? undefined
        : 2 * plates.halfHeight * Math.sqrt((ownTime / at) ** 2 + widthVariance / (width! * width!)),
    tailingFactor: ofTailing === undefined ? undefined : ofTailing / 2,
    asymmetry: ratioDeviation(tenth, 0.1, gaussian.tenth),
  });
}

/** [-] 2 ln(1 / share): the relative slope of a Gaussian times its distance from the apex. */
const gaussian = { half: 1.3862943611198906, tenth: 4.605170185988092, twentieth: 5.991464547107982 };
const ln2 = 0.6931471805599453;

interface Sides {
  readonly front: number;
  readonly back: number;
}

/** Distances of both crossings from the apex, from the width and back over front. */
function sidesOf(width: number | undefined, ratio: number | undefined): Sides | undefined {
  if (width === undefined || ratio === undefined || !(ratio > 0)) return undefined;
  const front = width / (1 + ratio);
  return { front, back: width - front };
}

/** [1 / min] Relative slope of a flank: between that of a Gaussian and of an exponential, as 10 and 5 % lie apart. */
function steepness(
  out: number,
  squared: number,
  side: keyof Sides,
  tenth: Sides | undefined,
  twentieth: Sides | undefined,
): number {
  const most = squared / out;
  const apart = tenth && twentieth && twentieth[side] - tenth[side];
  if (apart === undefined || !(apart > 0)) return most;
  return Math.min(most, Math.max(most / 3, (1.03 * ln2) / apart));
}

/** What the uncertainty of a resolution needs of a peak. */
export interface WithApex extends Pick<Peak, 'retentionTime' | 'widths'> {
  readonly within: WithinRun | undefined;
  /** [min] Apex that the resolution is taken from. */
  readonly apex: number;
}

/** [-] Uncertainty of a resolution, from those of times and widths, taken as independent. */
export function resolutionUncertainty(value: number, before: WithApex, after: WithApex): number | undefined {
  const [a, b] = [widthOf(before), widthOf(after)];
  const apart = after.apex - before.apex;
  if (a === undefined || b === undefined || !(apart > 0)) return undefined;
  const times = apexVariance(before) + apexVariance(after);
  const sum = a.width + b.width;
  const variance =
    times / (apart * apart) + (a.uncertainty * a.uncertainty + b.uncertainty * b.uncertainty) / (sum * sum);
  return Math.abs(value) * Math.sqrt(variance);
}

function widthOf({ within, widths: { halfHeight: width } }: WithApex) {
  const uncertainty = within?.widthHalfHeight;
  return width === undefined || uncertainty === undefined ? undefined : { width, uncertainty };
}

/** [min²] Of the apex itself, without what a neighbour draws the maximum off by. */
function apexVariance({ within, apex, retentionTime }: WithApex): number {
  return Math.max(0, square(within?.retentionTime ?? 0) - square(apex - retentionTime));
}

/**
 * [signal unit] Noise of the mean of `count` readings whose correlation r falls off
 * exponentially: sd² / n ((1 + r) / (1 - r) - 2 r (1 - rⁿ) / (n (1 - r)²)). G. E. P. Box, G. M. Jenkins, Time Series Analysis (from memory).
 */
export function noiseOfMean(reading: number, correlation: number, count: number): number {
  const n = Math.max(1, count);
  const r = Math.min(Math.max(correlation, 0), 0.99);
  let power = 1;
  for (let i = 0; i < n && power > 1e-6; i++) power *= r;
  const sum = (1 + r) / (1 - r) - (2 * r * (1 - power)) / (n * (1 - r) * (1 - r));
  return reading * Math.sqrt(Math.max(sum, 1e-3) / n);
}
