import type { Analysis, Peak } from '../analysis/index.js';
import { baselineAt, type Baseline } from '../baseline/index.js';
import { PeakwrightError } from '../core/index.js';
import { baselineLine } from './baseline-line.js';
import type { Trace } from '../trace/index.js';
import { levelAt, traceLine, type Columns, type LinePiece } from './trace-line.js';

/** One peak as it is drawn: cut to the window, nothing scaled yet. */
export interface PeakShape {
  /** The peak. */
  readonly peak: Peak;
  /** [-] Place in the order of time; even and odd shade differently. */
  readonly order: number;
  /** [min] Start of the part in the window. */
  readonly from: number;
  /** [min] End of the part in the window. */
  readonly to: number;
  /** Signal from `from` to `to`. */
  readonly signal: readonly LinePiece[];
  /** Baseline from `from` to `to`. */
  readonly base: LinePiece;
  /** [signal unit] Baseline under the apex. */
  readonly apexBase: number;
  /** [signal unit] Level of the apex. */
  readonly apexLevel: number;
}

/** A stretch that is marked as no peak. */
export interface Band {
  /** What it is, in one or two words. */
  readonly kind: string;
  /** [min] Start. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
  /** [min] Where its label points. */
  readonly at: number;
  /** Why it was set apart. */
  readonly evidence: string;
}

/** What a chromatogram shows between two times, before any scaling of the signal. */
export interface ChromatogramModel {
  /** [min] Left end. */
  readonly from: number;
  /** [min] Right end. */
  readonly to: number;
  /** The signal. */
  readonly line: readonly LinePiece[];
  /** The peaks that reach into the window, in order of time. */
  readonly peaks: readonly PeakShape[];
  /** Baselines over the stretches in which peaks stand on them. */
  readonly baselines: readonly LinePiece[];
  /** Stretches marked as no peak. */
  readonly bands: readonly Band[];
}

/** Collects what lies between two times, reduced to so many pixel columns. */
export function chromatogramModel(
  analysis: Analysis,
  from: number,
  to: number,
  columnCount: number,
): ChromatogramModel {
  const columns: Columns = { origin: from, width: (to - from) / columnCount };
  const byId = new Map<string, Baseline>(analysis.plan.baselines.map((baseline) => [baseline.id, baseline]));
  if (!byId.has(analysis.baseline.id)) byId.set(analysis.baseline.id, analysis.baseline);
  const peaks: PeakShape[] = [];
  analysis.peaks.forEach((peak, order) => {
    if (peak.end <= from || peak.start >= to) return;
    const baseline = baselineOf(peak, byId);
    const start = Math.max(peak.start, from);
    const end = Math.min(peak.end, to);
    const apexBase = baselineAt(baseline, peak.retentionTime);
    peaks.push({
      peak,
      order,
      from: start,
      to: end,
      signal: integratedLine(analysis, start, end, columns),
      base: baselineLine(baseline, start, end),
      apexBase,
      apexLevel: apexBase + peak.height,
    });
  });
  return {
    from,
    to,
    line: traceLine(analysis.trace, from, to, columns),
    peaks,
    baselines: usedBaselines(analysis, byId, from, to),
    bands: bands(analysis).filter((band) => band.end >= from && band.start <= to),
  };
}

/** The signal as it is integrated: straight across gaps and across stretches that the plan bridges. */
function integratedLine({ trace, plan }: Analysis, start: number, end: number, columns: Columns): LinePiece[] {
  const whole = { ...trace, gaps: [] };
  const pieces: LinePiece[] = [];
  let at = start;
  for (const { from, to } of plan.bridged ?? []) {
    if (from >= end || to <= at) continue;
    if (from > at) pieces.push(...traceLine(whole, at, from, columns));
    else pieces.push(bridgeEnd(trace, at, from, to));
    if (to >= end) {
      pieces.push(bridgeEnd(trace, end, from, to));
      return pieces;
    }
    at = to;
  }
  pieces.push(...traceLine(whole, at, end, columns));
  return pieces;
}

/** The point at a time on the straight line that bridges a stretch. */
function bridgeEnd(trace: Trace, at: number, from: number, to: number): LinePiece {
  const left = levelAt(trace, from);
  const share = (at - from) / (to - from);
  return { time: [at], value: [left + share * (levelAt(trace, to) - left)] };
}

/** The baseline a peak stands on. */
function baselineOf(peak: Peak, byId: ReadonlyMap<string, Baseline>): Baseline {
  const baseline = byId.get(peak.baseline);
  if (baseline !== undefined) return baseline;
  throw new PeakwrightError(
    'plan-invalid',
    `renderChromatogram: peak ${peak.id} stands on baseline ${peak.baseline}, which the plan does not have; it has ${[...byId.keys()].join(', ')}.`,
    { field: 'plan.baselines', value: peak.baseline, candidates: [...byId.keys()] },
  );
}

/** Each baseline once per region, from the first to the last limit of the peaks that stand on it. */
function usedBaselines(analysis: Analysis, byId: ReadonlyMap<string, Baseline>, from: number, to: number): LinePiece[] {
  const regionOf = new Map<string, number>();
  analysis.regions.forEach((region, index) => {
    for (const id of region.peaks) regionOf.set(id, index);
  });
  const stretches = new Map<string, { baseline: Baseline; start: number; end: number }>();
  for (const peak of analysis.peaks) {
    const region = regionOf.get(peak.id);
    const key = region === undefined ? `peak ${peak.id}` : `region ${region} ${peak.baseline}`;
    const known = stretches.get(key);
    const baseline = baselineOf(peak, byId);
    if (known === undefined) stretches.set(key, { baseline, start: peak.start, end: peak.end });
    else {
      known.start = Math.min(known.start, peak.start);
      known.end = Math.max(known.end, peak.end);
    }
  }
  const lines: LinePiece[] = [];
  for (const { baseline, start, end } of stretches.values()) {
    if (end > from && start < to) lines.push(baselineLine(baseline, Math.max(start, from), Math.min(end, to)));
  }
  return lines;
}

/** Disturbances, and the gaps of the record that are not among them. */
function bands(analysis: Analysis): Band[] {
  const found: Band[] = analysis.disturbances.map(({ kind, start, end, at, evidence }) => ({
    kind,
    start,
    end,
    at,
    evidence,
  }));
  for (const gap of analysis.trace.gaps) {
    const known = analysis.disturbances.some((d) => d.kind === 'gap' && d.start < gap.to && d.end > gap.from);
    if (known) continue;
    const at = (gap.from + gap.to) / 2;
    found.push({ kind: 'gap', start: gap.from, end: gap.to, at, evidence: 'Nothing was recorded here.' });
  }
  return found.sort((a, b) => a.start - b.start);
}
