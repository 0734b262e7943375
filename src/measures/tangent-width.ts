import { firstEntryFrom, fitLocalPolynomial, lastEntryTo, type Stretch } from '../numeric/index.js';

/** The tangent at the inflection of one flank. */
export interface FlankTangent {
  /** [min] Where it touches the flank. */
  readonly at: number;
  /** [signal unit/min] Its slope. */
  readonly slope: number;
  /** [min] Where it meets the baseline. */
  readonly intercept: number;
  /** Samples behind it. */
  readonly points: number;
}

/** A cubic needs four points; one more lets noise show. */
const fewestPoints = 5;

/**
 * Tangent at the inflection of a flank: a cubic is fitted by least squares over
 * `span` on either side and centred on its own inflection; there the slope is
 * steepest. Searching the steepest slope of a noisy curve instead would always
 * find one that is too steep.
 *
 * With a span of 0.6 standard deviations the slope on a noise-free Gaussian is
 * 0.15 % low. Where that span holds fewer than five samples it is widened up to
 * 1.5 standard deviations.
 *
 * @param curve - The peak above its baseline, pointing up.
 * @param start - [min] Where to begin, near 60.65 % of the height.
 * @param side - 1 for the back flank, -1 for the front.
 * @param span - [min] Half the width of the fit.
 * @returns The tangent, or nothing when there are too few samples or no flank.
 */
export function fitFlankTangent(curve: Stretch, start: number, side: 1 | -1, span: number): FlankTangent | undefined {
  const { time, value, length, fit } = curve;
  let half = span;
  let centre = start;
  let tangent: FlankTangent | undefined;
  for (let pass = 0; pass < 6; pass++) {
    let first = firstEntryFrom(curve, centre - half);
    let last = lastEntryTo(curve, centre + half);
    while (last - first + 1 < fewestPoints && half < span * 2.5) {
      half *= 1.1;
      first = firstEntryFrom(curve, centre - half);
      last = lastEntryTo(curve, centre + half);
    }
    const points = last - first + 1;
    if (points < fewestPoints || !fitLocalPolynomial(time, value, first, last, centre, half, 3, fit)) break;
    // The inflection of the cubic, if it is the steepest place and not the flattest.
    const inflection = side * fit[3]! > 0 ? -fit[2]! / (3 * fit[3]!) : undefined;
    const u = inflection !== undefined && Math.abs(inflection) <= 1 ? inflection : 0;
    const slope = (fit[1]! + u * (2 * fit[2]! + u * 3 * fit[3]!)) / half;
    if (!(side * slope < 0)) break;
    const level = fit[0]! + u * (fit[1]! + u * (fit[2]! + u * fit[3]!));
    const at = centre + u * half;
    tangent = { at, slope, intercept: at - level / slope, points };
    const move = Math.max(-0.5, Math.min(0.5, inflection ?? 0));
    centre = Math.max(time[0]!, Math.min(time[length - 1]!, centre + move * half));
    if (Math.abs(move) < 0.02) break;
  }
  // A slope lost in the noise puts the intercept anywhere; on a Gaussian it lies 1.7 spans out.
  return tangent !== undefined && Math.abs(tangent.intercept - tangent.at) < 10 * span ? tangent : undefined;
}
