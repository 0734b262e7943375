import { xyInterpolateLinear } from 'ml-spectra-processing';
import { failOption } from '../core/index.js';

/**
 * Values at the targets on straight lines between the points; at a point
 * exactly its value.
 *
 * Made by xyInterpolateLinear of ml-spectra-processing, which goes wrong
 * without a word on targets that do not ascend and goes on beyond the points;
 * both are refused here.
 *
 * @param x - N at least 2 positions, strictly increasing.
 * @param y - N finite values.
 * @param targets - Positions, not decreasing, from `x[0]` to `x[N - 1]`.
 */
export function interpolateLinear(x: Float64Array, y: Float64Array, targets: Float64Array): Float64Array {
  const caller = 'interpolateLinear';
  if (x.length < 2 || x.length !== y.length) failOption(caller, 'x', `${y.length} values, at least 2`, x.length);
  const last = x[x.length - 1]!;
  let previous = x[0]!;
  for (let i = 0; i < targets.length; i++) {
    const target = targets[i]!;
    if (!(target >= previous && target <= last)) {
      failOption(caller, `targets[${i}]`, `from ${previous} to ${last}`, target);
    }
    previous = target;
  }
  return xyInterpolateLinear({ x, y }, targets);
}
