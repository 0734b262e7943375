import {
  platesFoleyDorsey,
  platesHalfHeight,
  platesTangent,
  type PeakPlates,
  type PeakWidths,
} from '../measures/index.js';
import { defined } from '../core/index.js';
import type { PeakCurve } from './peak-curve.js';

/** What is measured on a peak that stands alone, without noise, sampled as finely as you like. */
export interface SinglePeak {
  readonly widths: Required<PeakWidths>;
  readonly plates: Omit<PeakPlates, 'moments'>;
  readonly tailingFactor: number;
  readonly asymmetry: number;
  /** [min] Its 5 % points. */
  readonly start: number;
  readonly end: number;
}

/**
 * Measures a curve by bisection on the curve itself, so that no formula for a
 * shape is taken on trust: widths to 1e-12 of themselves, the tangent width,
 * whose steepest place is searched, to 1e-7.
 */
export function measureSingle(curve: PeakCurve): SinglePeak {
  const { position } = curve;
  const at = (level: number, side: 1 | -1): number => crossing(curve, level, side);
  const width = (level: number): number => at(level, 1) - at(level, -1);
  const start = at(0.05, -1);
  const end = at(0.05, 1);
  const widths = {
    halfHeight: width(0.5),
    tenPercent: width(0.1),
    fivePercent: end - start,
    tangent: intercept(curve, 1) - intercept(curve, -1),
  };
  const asymmetry = (at(0.1, 1) - position) / (position - at(0.1, -1));
  const plates = defined({
    halfHeight: platesHalfHeight(position, widths.halfHeight),
    tangent: platesTangent(position, widths.tangent),
    foleyDorsey: platesFoleyDorsey(position, widths.tenPercent, asymmetry),
  });
  return { widths, plates, tailingFactor: (end - start) / (2 * (position - start)), asymmetry, start, end };
}

/** [min] Where the curve falls to a share of its height on one side of the apex. */
function crossing({ position, sigma, unit }: PeakCurve, level: number, side: 1 | -1): number {
  const above = (distance: number): boolean => unit(position + side * distance) > level;
  let inside = 0;
  let outside = sigma;
  while (above(outside)) {
    inside = outside;
    outside *= 2;
  }
  for (let i = 0; i < 60; i++) {
    const middle = (inside + outside) / 2;
    if (above(middle)) inside = middle;
    else outside = middle;
  }
  return position + side * outside;
}

/** [-] Places on a flank, between 99 % and 2 % of the height, among which the steepest is looked for. */
const scanned = 100;

/** [min] Where the tangent at the steepest place of a flank meets the baseline. */
function intercept(curve: PeakCurve, side: 1 | -1): number {
  const { position, sigma, unit } = curve;
  const h = sigma * 1e-4;
  const steepness = (distance: number): number => {
    const t = position + side * distance;
    return (unit(t - side * h) - unit(t + side * h)) / (2 * h);
  };
  // A scan finds the steepest place, golden section its exact position.
  const top = Math.abs(crossing(curve, 0.99, side) - position);
  const step = (Math.abs(crossing(curve, 0.02, side) - position) - top) / scanned;
  let best = top;
  for (let i = 1; i <= scanned; i++) if (steepness(top + i * step) > steepness(best)) best = top + i * step;
  const share = (Math.sqrt(5) - 1) / 2;
  let low = best - step;
  let high = best + step;
  for (let i = 0; i < 45; i++) {
    const left = high - share * (high - low);
    const right = low + share * (high - low);
    if (steepness(left) > steepness(right)) high = right;
    else low = left;
  }
  const distance = (low + high) / 2;
  const t = position + side * distance;
  return t + (side * unit(t)) / steepness(distance);
}
