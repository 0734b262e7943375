import type { Baseline } from '../baseline/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { LimitKind, PlannedPeak } from './plan.js';

const kind = 'valley to valley';

/** Whether a baseline was made for one peak. */
export function isOwn(baseline: Baseline): boolean {
  return baseline.kind === kind;
}

/** A straight baseline from the start of a peak to its end: the signal at a valley, what it stood on elsewhere. */
export function ownBaseline(peak: PlannedPeak, trace: Trace, run: Baseline): Baseline {
  const level = (t: number, limit: LimitKind): number =>
    polylineAt(limit === 'valley' ? { time: trace.time, value: trace.signal } : run, t);
  return {
    id: `under ${peak.id}`,
    kind,
    time: [peak.start, peak.end],
    value: [level(peak.start, peak.startKind), level(peak.end, peak.endKind)],
  };
}
