import type { Workspace } from '../numeric/index.js';
import type { DecisionGrid } from './decision-grid.js';
import { noiseAt, type ScaleNoise } from './scale-noise.js';

/** A few points that stand off alone, faster than any peak could rise and fall. */
export interface Spike {
  /** [min] Last point before it. */
  readonly start: number;
  /** [min] First point after it. */
  readonly end: number;
  /** [min] Its extreme. */
  readonly at: number;
  /** [signal unit] Its height above the straight line between the points beside it. */
  readonly height: number;
  /** Number of points that stand off. */
  readonly points: number;
}

/** Points a spike may have at the most. */
const mostPoints = 3;
/** [-] Height in curvature noise from which a lone point is no noise: 1e6 white points reach about 5. */
const leastHeight = 10;

/**
 * Finds spikes and lays a straight line under them, so that nothing later sees
 * them. The grid is copied only when there is one.
 *
 * A spike is one to three neighbouring points that all stand off, to one side,
 * from the line between the points beside them, while the two points further
 * out on each side stay close to that line: a peak, however narrow, bends them too.
 */
export function bridgeSpikes(
  grid: DecisionGrid,
  noise: ScaleNoise,
  workspace: Workspace,
): { readonly grid: DecisionGrid; readonly spikes: readonly Spike[] } {
  const { values, count } = grid;
  const spikes: Spike[] = [];
  let quietest = Infinity;
  for (const s of noise.local[0]!) quietest = Math.min(quietest, s);
  const least = leastHeight * quietest;
  let output = values;
  for (let i = 2; i < count - 4; i++) {
    const own = output[i]!;
    const rise = own - output[i - 1]!;
    const bend = own - 0.5 * (output[i - 1]! + output[i + 1]!);
    if ((bend <= least && bend >= -least) || rise * bend < 0) {
      // The first point of a spike of two or three bends by half its height or more.
      if (rise <= least && rise >= -least) continue;
    }
    const limit = leastHeight * noiseAt(noise, 0, i / count);
    const found = spikeFrom(output, i, limit, count);
    if (found === undefined) continue;
    if (output === values) {
      output = workspace.take('bridged grid', count);
      output.set(values);
    }
    const before = output[i - 1]!;
    const after = output[i + found.points]!;
    for (let k = 0; k < found.points; k++) {
      output[i + k] = before + ((after - before) * (k + 1)) / (found.points + 1);
    }
    spikes.push({
      start: grid.start + (i - 1) * grid.step,
      end: grid.start + (i + found.points) * grid.step,
      at: grid.start + (i + found.peak) * grid.step,
      height: found.height,
      points: found.points,
    });
    i += found.points;
  }
  return { grid: output === values ? grid : { ...grid, values: output }, spikes };
}

/** The spike that begins at point i, if one does. */
function spikeFrom(
  y: Float64Array,
  i: number,
  limit: number,
  count: number,
): { points: number; peak: number; height: number } | undefined {
  for (let points = 1; points <= mostPoints && i + points + 1 < count; points++) {
    const before = y[i - 1]!;
    const after = y[i + points]!;
    let least = Infinity;
    let height = 0;
    let peak = 0;
    let sign = 0;
    for (let k = 0; k < points; k++) {
      const off = y[i + k]! - (before + ((after - before) * (k + 1)) / (points + 1));
      if (sign === 0) sign = off < 0 ? -1 : 1;
      const size = off * sign;
      if (size < least) least = size;
      if (size > height) {
        height = size;
        peak = k;
      }
    }
    if (least < limit || least < 0.2 * height) continue;
    // The surroundings must run straight through: a peak bends them as well.
    const slope = (after - before) / (points + 1);
    const outBefore = y[i - 2]! - (before - slope);
    const outAfter = y[i + points + 1]! - (after + slope);
    const loose = 0.08 * height + 0.5 * limit;
    if (
      Math.abs(outBefore) > loose ||
      Math.abs(outAfter) > loose ||
      Math.abs(after - before) > 0.3 * height + 0.5 * limit
    ) {
      continue;
    }
    return { points, peak, height: sign * height };
  }
  return undefined;
}
