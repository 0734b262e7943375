import type { Analysis, Peak } from '../analysis/index.js';
import { baselineAt, type Baseline } from '../baseline/index.js';
import { PeakwrightError } from '../core/index.js';
import { drawCurve, withoutRiders } from '../integration/index.js';
import type { Disturbance } from '../signal/index.js';
import type { Point } from './scale.js';
import { levelAt, traceLine } from './trace-line.js';

/** One peak as it is drawn: cut to the window, nothing scaled yet. */
export interface PeakShape {
  /** The peak. */
  readonly peak: Peak;
  /** [-] Place in the order of time; even and odd shade differently. */
  readonly order: number;
  /** Signal from its start to its end. */
  readonly signal: readonly Point[];
  /** Baseline from its start to its end. */
  readonly base: readonly Point[];
  /** [signal unit] Baseline under the apex. */
  readonly foot: number;
  /** [signal unit] Level of the apex. */
  readonly head: number;
}

/** What a chromatogram shows between two times, before any scaling of the signal. */
export interface ChromatogramModel {
  /** [min] Left end. */
  readonly from: number;
  /** [min] Right end. */
  readonly to: number;
  /** The signal. */
  readonly line: readonly (readonly Point[])[];
  /** The peaks that reach into the window, in order of time. */
  readonly peaks: readonly PeakShape[];
  /** Those of them with their apex in the window. */
  readonly inside: readonly PeakShape[];
  /** Curves that divide the peaks of a region, each on the baseline. */
  readonly curves: readonly (readonly Point[])[];
  /** Stretches marked as no peak. */
  readonly bands: readonly Disturbance[];
  /** Places that were looked at and not taken, with the level of the signal, when they are to be shown. */
  readonly rejected: readonly { readonly at: Point; readonly text: string }[];
}

/** Collects what lies between two times, reduced to so many pixel columns. */
export function chromatogramModel(
  analysis: Analysis,
  from: number,
  to: number,
  columnCount: number,
  rejected: boolean,
): ChromatogramModel {
  const { trace, plan } = analysis;
  const columns = { origin: from, width: (to - from) / columnCount };
  // As it is integrated: straight across gaps and across stretches that the plan bridges.
  const integrated = { ...trace, gaps: plan.bridged ?? [] };
  const peaks = analysis.peaks.flatMap((peak, order): PeakShape[] => {
    if (peak.end <= from || peak.start >= to) return [];
    const baseline = baselineOf(peak, analysis);
    const start = Math.max(peak.start, from);
    const end = Math.min(peak.end, to);
    const foot = baselineAt(baseline, peak.retentionTime);
    // Under what rides on it a peak goes up to the skim.
    const own = peak.transfers ? { ...integrated, signal: withoutRiders(trace, plan, peak.id).signal } : integrated;
    const signal = traceLine(own, start, end, columns).flat();
    const corners = [start, ...baseline.time.filter((t) => t > start && t < end), end];
    const base = corners.map((t): Point => [t, baselineAt(baseline, t)]);
    return [{ peak, order, signal, base, foot, head: foot + peak.height }];
  });
  return {
    from,
    to,
    line: traceLine(trace, from, to, columns),
    peaks,
    inside: peaks.filter(({ peak }) => peak.retentionTime >= from && peak.retentionTime <= to),
    curves: fittedCurves(analysis, from, to, columnCount),
    bands: analysis.disturbances.filter(({ start, end }) => end >= from && start <= to),
    rejected: analysis.rejected
      .filter(({ at }) => rejected && at >= from && at <= to)
      .map(({ at, text }) => ({ at: [at, levelAt(trace, at)], text })),
  };
}

/** The curves of every region that they divide. */
function fittedCurves(analysis: Analysis, from: number, to: number, columnCount: number): Point[][] {
  return analysis.plan.regions.flatMap(({ start, end, peaks, curves = [] }) => {
    const [first, last] = [Math.max(start, from), Math.min(end, to)];
    if (curves.length < 2 || !(last > first)) return [];
    const known = peaks.flatMap(({ id }) => analysis.peaks.find((p) => p.id === id) ?? []);
    const baseline = baselineOf(known[0]!, analysis);
    const points = Math.max(2, Math.ceil((columnCount * (last - first)) / (to - from)) + 1);
    const time = Float64Array.from({ length: points }, (_, i) => first + ((last - first) * i) / (points - 1));
    return curves.map((curve) =>
      [...drawCurve(curve, time)].map((y, i): Point => [time[i]!, y + baselineAt(baseline, time[i]!)]),
    );
  });
}

/** The baseline a peak stands on. */
function baselineOf({ id, baseline }: Peak, analysis: Analysis): Baseline {
  const known = [...analysis.plan.baselines, analysis.baseline];
  const found = known.find((each) => each.id === baseline);
  if (found !== undefined) return found;
  const candidates = known.map((each) => each.id);
  throw new PeakwrightError(
    'plan-invalid',
    `renderChromatogram: the plan has no baseline ${baseline} for peak ${id}; it has ${candidates.join(', ')}.`,
    { field: 'plan.baselines', value: baseline, candidates },
  );
}
