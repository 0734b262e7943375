import { settleFit, type Polyline } from '../numeric/index.js';

/** A cubic needs four points; one more lets noise show. */
const fewestPoints = 5;

/**
 * Where the tangent at the inflection of a flank meets the baseline: a cubic is
 * fitted by least squares over `span` on either side and centred on its own
 * inflection; there the slope is steepest. Searching the steepest slope of a
 * noisy curve instead would always find one that is too steep.
 *
 * With a span of 0.6 standard deviations the slope on a noise-free Gaussian is
 * 0.15 % low. Where that span holds fewer than five samples it is widened up to
 * 1.5 standard deviations.
 *
 * @param curve - The peak above its baseline, pointing up.
 * @param start - [min] Where to begin, near 60.65 % of the height.
 * @param side - 1 for the back flank, -1 for the front.
 * @param span - [min] Half the width of the fit.
 * @returns [min] The intercept, or nothing when there are too few samples or no flank.
 */
export function tangentIntercept(curve: Polyline, start: number, side: 1 | -1, span: number): number | undefined {
  // The inflection of the cubic, if it is the steepest place and not the flattest.
  const inflection = (fit: readonly number[]): number =>
    side * fit[3]! > 0 ? Math.max(-0.5, Math.min(0.5, -fit[2]! / (3 * fit[3]!))) : 0;
  for (let half = span; half < span * 2.6; half *= 1.1) {
    const tangent = settleFit(curve, start, half, 3, fewestPoints, inflection);
    if (tangent === undefined) continue;
    const reach = -tangent.value / tangent.slope;
    // A slope lost in the noise puts the intercept anywhere; on a Gaussian it lies 1.7 spans out.
    return side * reach > 0 && side * reach < 10 * span ? tangent.time + reach : undefined;
  }
  return undefined;
}
