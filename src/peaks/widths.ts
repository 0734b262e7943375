import { quantileInPlace, type Workspace } from '../numeric/index.js';
import type { Extremum } from './extrema.js';

/** [min] Standard deviation of the narrower peaks: a low quantile of the significant widths. */
export function typicalWidth(extrema: readonly Extremum[], duration: number, workspace: Workspace): number {
  const widths = extrema.filter((e) => !e.atEnd && e.width < duration / 6).map((e) => e.width);
  if (widths.length === 0) return duration / 100;
  const scratch = workspace.take('widths', widths.length);
  scratch.set(widths);
  return quantileInPlace(scratch, widths.length, 0.3) / 2.354820045030949;
}

/**
 * [min] Width up to which an extreme at an end of the record is the flank of a
 * peak, and not drift or the end of a gradient: by the nearest peak inside.
 */
export function endWidth(
  extrema: readonly Extremum[],
  i: number,
  width: number,
  ground: { has(e: Extremum): boolean },
): number {
  const side = i < extrema.length / 2 ? 1 : -1;
  let k = i + side;
  while (extrema[k] !== undefined && (extrema[k]!.atEnd || ground.has(extrema[k]!))) k += side;
  return Math.max(6 * width, 2 * (extrema[k]?.width ?? 0));
}
