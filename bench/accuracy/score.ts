import type { Run, TruePeak } from './make-run.js';

/** A peak as an analyser reports it. */
export interface FoundPeak {
  /** [min] */
  readonly retentionTime: number;
  /** [unit] Signed. */
  readonly height: number;
  /** [unit s] Signed. */
  readonly area: number;
  /** [min] */
  readonly start: number;
  readonly end: number;
  readonly direction: 'up' | 'down';
}

/** What is judged: from a raw trace to peaks. `everything` is searched for non-finite numbers. */
export type Analyser = (
  time: Float64Array,
  signal: Float64Array,
  unit: string,
) => { readonly peaks: readonly FoundPeak[]; readonly everything?: unknown };

export interface RunScore {
  readonly run: Run;
  readonly found: readonly FoundPeak[];
  /** Visible true peaks with S/N of 10 or more, each with what was found for it. */
  readonly judged: readonly { readonly peak: TruePeak; readonly match?: FoundPeak; readonly areaError?: number }[];
  /** Found peaks that are no true peak of any size. */
  readonly falsePeaks: readonly FoundPeak[];
  readonly quality: number;
  readonly exception?: string;
  readonly nonFinite: number;
  readonly milliseconds: number;
}

/** Peaks below this S/N are neither credited nor charged. */
const leastSignalToNoise = 10;
/** An area error of this size costs a factor e. */
const errorScale = 0.05;

export function scoreRun(run: Run, analyser: Analyser): RunScore {
  const started = performance.now();
  let found: readonly FoundPeak[] = [];
  let exception: string | undefined;
  let nonFinite = 0;
  try {
    const result = analyser(run.time, run.signal, run.signalUnit);
    found = result.peaks;
    nonFinite = countNonFinite(result.everything ?? found);
  } catch (error) {
    exception =
      error instanceof Error ? (error.stack ?? error.message).split('\n').slice(0, 3).join(' | ') : String(error);
  }
  const milliseconds = performance.now() - started;

  const { peaks } = run.truth;
  const pairs: { truth: number; found: number; distance: number }[] = [];
  peaks.forEach((p, i) => {
    found.forEach((f, k) => {
      if ((f.direction === 'up') !== p.height > 0) return;
      if (f.retentionTime < p.matchFrom || f.retentionTime > p.matchTo) return;
      pairs.push({ truth: i, found: k, distance: Math.abs(f.retentionTime - p.apex) });
    });
  });
  pairs.sort((a, b) => a.distance - b.distance);
  const matchOf = new Map<number, number>();
  const used = new Set<number>();
  for (const pair of pairs) {
    if (matchOf.has(pair.truth) || used.has(pair.found)) continue;
    matchOf.set(pair.truth, pair.found);
    used.add(pair.found);
  }

  const judged: { peak: TruePeak; match?: FoundPeak; areaError?: number }[] = [];
  let credit = 0;
  peaks.forEach((peak, i) => {
    if (!peak.visible || peak.snr < leastSignalToNoise) return;
    const index = matchOf.get(i);
    if (index === undefined) {
      judged.push({ peak });
      return;
    }
    const match = found[index]!;
    const areaError = match.area / peak.areaInside - 1;
    if (Number.isFinite(areaError)) credit += Math.exp(-Math.abs(areaError) / errorScale);
    judged.push({ peak, match, areaError });
  });
  const falsePeaks = found.filter((_, k) => !used.has(k));
  const quality =
    judged.length === 0 ? Math.max(0, 1 - 0.5 * falsePeaks.length) : (credit - 0.5 * falsePeaks.length) / judged.length;
  return {
    run,
    found,
    judged,
    falsePeaks,
    quality: exception === undefined ? quality : 0,
    ...(exception === undefined ? {} : { exception }),
    nonFinite,
    milliseconds,
  };
}

export interface Summary {
  readonly runs: number;
  /** [-] Share of visible peaks with S/N ≥ 10 that were found; absent without such peaks. */
  readonly recall?: number;
  readonly falsePerRun: number;
  /** [%] Median of |area error| of isolated found peaks. */
  readonly medianIsolated?: number;
  /** [%] 90th percentile of |area error| of all found peaks. */
  readonly ninetieth?: number;
  readonly quality: number;
  readonly exceptions: number;
  readonly nonFinite: number;
  readonly milliseconds: number;
}

export function summarise(scores: readonly RunScore[]): Summary {
  const judged = scores.flatMap((s) => s.judged);
  const errors = judged.flatMap((j) => (j.areaError === undefined ? [] : [Math.abs(j.areaError) * 100]));
  const isolated = judged.flatMap((j) =>
    j.areaError === undefined || !j.peak.isolated ? [] : [Math.abs(j.areaError) * 100],
  );
  const mean = (f: (s: RunScore) => number): number => scores.reduce((sum, s) => sum + f(s), 0) / scores.length;
  const medianIsolated = quantile(isolated, 0.5);
  const ninetieth = quantile(errors, 0.9);
  return {
    runs: scores.length,
    ...(judged.length === 0 ? {} : { recall: judged.filter((j) => j.match !== undefined).length / judged.length }),
    falsePerRun: mean((s) => s.falsePeaks.length),
    ...(medianIsolated === undefined ? {} : { medianIsolated }),
    ...(ninetieth === undefined ? {} : { ninetieth }),
    quality: mean((s) => s.quality),
    exceptions: scores.filter((s) => s.exception !== undefined).length,
    nonFinite: scores.reduce((sum, s) => sum + s.nonFinite, 0),
    milliseconds: mean((s) => s.milliseconds),
  };
}

function quantile(values: readonly number[], p: number): number | undefined {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => a - b);
  const at = p * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.ceil(at);
  return sorted[low]! + (sorted[high]! - sorted[low]!) * (at - low);
}

/** Counts NaN and infinities anywhere inside a result. */
export function countNonFinite(value: unknown): number {
  if (typeof value === 'number') return Number.isFinite(value) ? 0 : 1;
  if (value === null || typeof value !== 'object') return 0;
  const inside: readonly unknown[] = ArrayBuffer.isView(value)
    ? Array.from(value as Float64Array)
    : Object.values(value);
  return inside.reduce((sum: number, v) => sum + countNonFinite(v), 0);
}
