import { baselineAt, type Baseline } from '../baseline/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { PlannedPeak, PlannedRegion } from './plan.js';

/** [widths] Regions closer than this part of a peak's length are fitted together. */
const near = 0.02;
/** Peaks fitted together at the most; where more touch they are parted at the deepest valleys. */
const mostTogether = 5;

/** Regions that nearly touch, together; long chains in parts. */
export function groupRegions(
  trace: Trace,
  regions: readonly PlannedRegion[],
  baselines: ReadonlyMap<string, Baseline>,
): PlannedRegion[][] {
  const groups: PlannedRegion[][] = [];
  for (const region of regions) {
    const last = groups.at(-1)?.at(-1);
    if (last && region.start - last.end < near * (region.end - region.start)) groups.at(-1)!.push(region);
    else groups.push([region]);
  }
  return groups.flatMap((group) => parted(trace, group, baselines));
}

/** A group in parts of not too many peaks, parted where the signal comes lowest between two. */
function parted(
  trace: Trace,
  group: readonly PlannedRegion[],
  baselines: ReadonlyMap<string, Baseline>,
): PlannedRegion[][] {
  const peaks = group.flatMap((r) => r.peaks);
  if (peaks.length <= mostTogether) return [[...group]];
  const signal = { time: trace.time, value: trace.signal };
  const above = (t: number, id: string) => Math.abs(polylineAt(signal, t) - baselineAt(baselines.get(id)!, t));
  let cut = 1;
  let lowest = Infinity;
  for (let i = 1; i < peaks.length; i++) {
    const [a, b] = [peaks[i - 1]!, peaks[i]!];
    const lower = Math.min(above(a.apex, a.baseline), above(b.apex, b.baseline));
    const share = above(b.start, b.baseline) / lower;
    if (share < lowest) [cut, lowest] = [i, share];
  }
  const at = peaks[cut]!.start;
  const split = (keep: (p: PlannedPeak) => boolean): PlannedRegion[] =>
    group
      .map((r) => {
        const kept = r.peaks.filter(keep);
        return kept.length === r.peaks.length
          ? r
          : { start: kept[0]?.start ?? 0, end: kept.at(-1)?.end ?? 0, peaks: kept };
      })
      .filter((r) => r.peaks.length > 0);
  return [
    ...parted(
      trace,
      split((p) => p.start < at),
      baselines,
    ),
    ...parted(
      trace,
      split((p) => p.start >= at),
      baselines,
    ),
  ];
}
