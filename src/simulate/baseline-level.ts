import { exp, log1p } from '../numeric/index.js';
import type { BaselineRecipe, RampRecipe } from './baseline-recipe.js';

/** [signal unit] N levels below the peaks at N times [min]. */
export function baselineLevel(time: Float64Array, recipe: BaselineRecipe): Float64Array {
  const { offset = 0, drift = 0, ramps = [], humps = [] } = recipe;
  const level = time.map((t) => offset + (drift * t) / 60);
  for (const ramp of ramps) for (let i = 0; i < level.length; i++) level[i]! += rampAt(time[i]!, ramp);
  for (const { time: top, height, sigma } of humps) {
    for (let i = 0; i < level.length; i++) {
      const u = (time[i]! - top) / sigma;
      level[i]! += height * exp((-u * u) / 2);
    }
  }
  return level;
}

function rampAt(t: number, { from, to, rise, bend = 0, rounding = 0 }: RampRecipe): number {
  const share = (softened(t - from, rounding) - softened(t - to, rounding)) / (to - from);
  return rise * (share + bend * share * (1 - share));
}

/** max(x, 0) with its corner rounded: r ln(1 + e^(x/r)). */
function softened(x: number, r: number): number {
  return Math.max(x, 0) + (r > 0 ? r * log1p(exp(-Math.abs(x) / r)) : 0);
}
