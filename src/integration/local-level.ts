import { polylineAt, settleFit, type Polyline } from '../numeric/index.js';

/** [-] Half the span of the fit, in standard deviations of the narrower peak: as at a valley. */
const span = 0.4;

/**
 * Level and slope of a record at a time, made against noise: those of a quartic
 * fitted by least squares over 0.4 standard deviations on either side, which on
 * a noise-free Gaussian of 20 samples per standard deviation is 1e-5 of the
 * height off; of a parabola with few samples, and of the straight line between
 * two samples with fewer than four.
 */
export function levelAt(curve: Polyline, t: number, sigma: number): { readonly value: number; readonly slope: number } {
  const fit = settleFit(curve, t, span * sigma, 4, 9, () => 0) ?? settleFit(curve, t, span * sigma, 2, 4, () => 0);
  if (fit !== undefined) return fit;
  const beside = (span * sigma) / 2;
  const slope = (polylineAt(curve, t + beside) - polylineAt(curve, t - beside)) / (2 * beside);
  return { value: polylineAt(curve, t), slope };
}
