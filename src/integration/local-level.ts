import { polylineAt, settleFit, type Polyline } from '../numeric/index.js';

/** [-] Half the span of the fit, in standard deviations of the narrower peak: as at a valley. */
const span = 0.4;

/**
 * Level and slope of a record at a time, made against noise: those of a quartic
 * fitted by least squares over 0.4 standard deviations on either side, which on
 * a noise-free Gaussian of 20 samples per standard deviation is 1e-5 of the
 * height off; of a parabola with few samples, and of the straight line between
 * two samples with fewer than four.
 *
 * @param sign - -1 to turn it upside down.
 */
export function levelAt(
  record: Polyline,
  t: number,
  sigma: number,
  sign: 1 | -1,
): { readonly value: number; readonly slope: number } {
  const fit = settleFit(record, t, span * sigma, 4, 9, () => 0) ?? settleFit(record, t, span * sigma, 2, 4, () => 0);
  if (fit !== undefined) return { value: sign * fit.value, slope: sign * fit.slope };
  const beside = (span * sigma) / 2;
  const slope = (polylineAt(record, t + beside) - polylineAt(record, t - beside)) / (2 * beside);
  return { value: sign * polylineAt(record, t), slope: sign * slope };
}
