import { polylineAt } from '../numeric/index.js';
import type { Baseline } from './baseline.js';

/**
 * [signal unit] Level of a baseline at a time: straight between knots, level
 * outside them.
 */
export function baselineAt(baseline: Baseline, t: number): number {
  return polylineAt(baseline, t);
}

/** [signal unit] Standard uncertainty of a baseline at a time, 0 when none is known. */
export function baselineUncertaintyAt({ time, uncertainty: value }: Baseline, t: number): number {
  return value === undefined ? 0 : polylineAt({ time, value }, t);
}
