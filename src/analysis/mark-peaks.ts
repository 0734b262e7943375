import type { Warning } from '../core/index.js';
import type { Analysis, Peak } from './analysis.js';
import { lagWarning, type Filter } from './filter-lag.js';
import { beyondLinear } from './lower-bound.js';

/** The peaks with the warnings that need more than the peak: the range of the detector and its filter. */
export function markPeaks(
  peaks: readonly Peak[],
  run: Pick<Analysis, 'trace' | 'disturbances' | 'plan' | 'method'>,
  filter: Filter | undefined,
): readonly Peak[] {
  const saturations = run.disturbances.filter(({ kind }) => kind === 'saturation');
  if (filter === undefined && run.method.linearUpTo === 'unknown' && saturations.length === 0) return peaks;
  return peaks.map((peak) => {
    const { start, end, retentionTime: at } = peak;
    const more: Warning[] = [];
    const flat = saturations.find((d) => d.start < end && d.end > start);
    if (flat !== undefined && !peak.warnings.some(({ code }) => code === 'peak-flat-top')) {
      const message = `The peak at ${at.toFixed(3)} min is saturated from ${flat.start.toFixed(3)} to ${flat.end.toFixed(3)} min: height and area are lower bounds.`;
      more.push({ code: 'peak-flat-top', message, at });
    }
    const beyond = beyondLinear(peak, run);
    if (beyond !== undefined) {
      const message = `The peak at ${at.toFixed(3)} min is not all within ${run.method.linearUpTo} ${run.trace.signalUnit}: ${beyond}. Height and area are lower bounds.`;
      more.push({ code: 'peak-beyond-linear-range', message, at });
    }
    const lag = filter && lagWarning(peak, filter);
    if (lag) more.push(lag);
    return more.length > 0 ? { ...peak, warnings: [...peak.warnings, ...more] } : peak;
  });
}
