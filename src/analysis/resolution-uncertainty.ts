import type { Peak } from './analysis.js';
import type { WithinRun } from './within-run.js';

/** What the uncertainty of a resolution needs of a peak. */
export interface WithApex extends Pick<Peak, 'retentionTime' | 'widths'> {
  readonly within: WithinRun | undefined;
  /** [min] Apex that the resolution is taken from. */
  readonly apex: number;
}

/** With the uncertainty of the resolution to the peak before, from those of times and widths, taken as independent. */
export function withResolution(
  within: WithinRun,
  resolution: number | undefined,
  before: WithApex | undefined,
  after: WithApex,
): WithinRun {
  if (resolution === undefined || before === undefined) return within;
  const [a, b] = [widthOf(before), widthOf(after)];
  const apart = after.apex - before.apex;
  if (a === undefined || b === undefined || !(apart > 0)) return within;
  const times = apexVariance(before) + apexVariance(after);
  const widths = square(a.uncertainty) + square(b.uncertainty);
  const variance = times / square(apart) + widths / square(a.width + b.width);
  return { ...within, resolutionHalfHeight: Math.abs(resolution) * Math.sqrt(variance) };
}

function widthOf({ within, widths: { halfHeight: width } }: WithApex) {
  const uncertainty = within?.widthHalfHeight;
  return width === undefined || uncertainty === undefined ? undefined : { width, uncertainty };
}

/** [min²] Of the apex itself, without what a neighbour draws the maximum off by. */
function apexVariance({ within, apex, retentionTime }: WithApex): number {
  return Math.max(0, square(within?.retentionTime ?? 0) - square(apex - retentionTime));
}

function square(x: number): number {
  return x * x;
}
