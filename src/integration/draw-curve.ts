import { curveRules } from './curve-kinds.js';
import type { FittedCurve } from './plan.js';

/** [signal unit] A fitted curve above its baseline, at each time [min]. */
export function drawCurve({ kind, parameters }: FittedCurve, time: Float64Array): Float64Array {
  const value = new Float64Array(time.length);
  curveRules[kind].family.evaluate(time, 0, time.length, parameters, 0, value);
  return value;
}
