import type { DecisionGrid } from '../signal/index.js';
import { arpls } from './arpls.js';
import type { Baseline } from './baseline.js';
import type { Interval } from './block-means.js';

/** Most means the line is laid through. */
const mostMeans = 1000;
/** Knots that are kept for each sharpest bend: the straight pieces between them stay on the line. */
const knotsPerBend = 32;
/** [-] Change of the weights that counts as rest, and how long it is waited for. */
const ratio = 1e-6;
const mostRounds = 200;

/**
 * Lays the line of {@link arpls} through short means, lambda such that the
 * sharpest bend is the same in minutes whatever their length.
 *
 * @param grid - Less its straight drift, so that the digits of the solution are spent on what departs from it.
 * @param avoid - In order of time, not overlapping.
 * @param bend - [min] Lambda is (bend / distance of two means)⁴.
 */
export function estimateArpls(grid: DecisionGrid, avoid: readonly Interval[], bend: number): Baseline {
  const size = Math.max(1, Math.min(Math.ceil(grid.count / mostMeans), Math.floor(bend / (2 * grid.step))));
  const { y, w } = meansOf(grid, size, avoid);
  const count = y.length;
  const distance = size * grid.step;
  const steps = Math.max(bend / distance, 1);
  const fit = arpls(y, w, steps * steps * steps * steps, ratio, mostRounds);
  const first = grid.start + 0.5 * (size - 1) * grid.step;
  const sigma = Math.sqrt(fit.variance);
  const time: number[] = [];
  const value: number[] = [];
  const uncertainty: number[] = [];
  // Beyond the outermost means it runs on straight.
  const push = (t: number, i: number, slope: number) => {
    const centre = first + i * distance;
    time.push(t);
    value.push(fit.level[i]! + (slope * (t - centre)) / distance);
    uncertainty.push(sigma * Math.sqrt(Math.max(fit.inverse[i]!, 0)));
  };
  const slopeAt = (i: number) => (count > 1 ? fit.level[i + 1]! - fit.level[i]! : 0);
  if (size > 1) push(grid.start, 0, slopeAt(0));
  const every = Math.max(1, Math.floor(steps / knotsPerBend));
  for (let i = 0; i < count - 1; i += every) push(first + i * distance, i, 0);
  push(first + (count - 1) * distance, count - 1, 0);
  const end = grid.start + (grid.count - 1) * grid.step;
  if (end > time.at(-1)!) push(end, count - 1, slopeAt(Math.max(count - 2, 0)));
  const baseline = { id: 'run', kind: 'arpls', time, value, uncertainty };
  if (fit.settled) return baseline;
  const message = `The weights of the arPLS baseline did not come to rest in ${mostRounds} rounds: they still change by ${fit.change.toPrecision(1)} of themselves. Below 0.001 that hardly moves the line.`;
  return { ...baseline, warnings: [{ code: 'arpls-not-settled', message }] };
}

/** Means of so many grid points outside the avoided stretches, and the share of each that was free. */
function meansOf(
  grid: DecisionGrid,
  size: number,
  avoid: readonly Interval[],
): { readonly y: Float64Array; readonly w: Float64Array } {
  const count = Math.floor(grid.count / size);
  const y = new Float64Array(count);
  const w = new Float64Array(count);
  let a = 0;
  for (let k = 0; k < count; k++) {
    let sum = 0;
    let kept = 0;
    for (let i = k * size; i < (k + 1) * size; i++) {
      const t = grid.start + i * grid.step;
      while (a < avoid.length && avoid[a]!.to <= t) a++;
      if (a < avoid.length && avoid[a]!.from < t) continue;
      sum += grid.values[i]!;
      kept++;
    }
    y[k] = kept > 0 ? sum / kept : 0;
    w[k] = kept / size;
  }
  return { y, w };
}
