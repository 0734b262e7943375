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
  /** What follows only if the analyser gives it. [unit s] One standard uncertainty. */
  readonly areaUncertainty?: number;
  /** A divider is between it and a neighbour. */
  readonly divided?: boolean;
  /** [-] 8 ln 2 (t / W50)² */
  readonly plates?: number;
  /** [-] At 5 % of the height. */
  readonly tailing?: number;
  /** [-] To the found peak before, from the half widths. */
  readonly resolution?: number;
}

/** A stretch the analyser set apart as no peak. */
export interface FoundDisturbance {
  readonly kind: string;
  readonly start: number;
  readonly end: number;
}

/** What is judged: from a raw trace to peaks. `everything` is searched for non-finite numbers. */
export type Analyser = (
  time: Float64Array,
  signal: Float64Array,
  unit: string,
) => {
  readonly peaks: readonly FoundPeak[];
  readonly disturbances?: readonly FoundDisturbance[];
  readonly everything?: unknown;
};

export interface RunScore {
  readonly run: Run;
  readonly found: readonly FoundPeak[];
  /** Visible true peaks with S/N of 10 or more, each with what was found for it. */
  readonly judged: readonly { readonly peak: TruePeak; readonly match?: FoundPeak; readonly areaError?: number }[];
  /** Every true peak, likewise. */
  readonly all: RunScore['judged'];
  /** Found peaks that are no true peak of any size, and those of them that lie on a true disturbance. */
  readonly falsePeaks: readonly FoundPeak[];
  readonly onDisturbances: readonly FoundPeak[];
  /** Visible true peaks with S/N of 3 or more that were set apart as disturbances. */
  readonly takenForDisturbance: number;
  readonly quality: number;
  readonly exception?: string;
  readonly nonFinite: number;
  readonly milliseconds: number;
}

/** Peaks below this S/N are neither credited nor charged. */
export const leastSignalToNoise = 10;
/** Below this S/N a peak is not asked for at all. */
export const leastSeen = 3;
/** An area error of this size costs a factor e. */
const errorScale = 0.05;

export function scoreRun(run: Run, analyser: Analyser): RunScore {
  const started = performance.now();
  let found: readonly FoundPeak[] = [];
  let setApart: readonly FoundDisturbance[] = [];
  let exception: string | undefined;
  let nonFinite = 0;
  try {
    const result = analyser(run.time, run.signal, run.signalUnit);
    found = result.peaks;
    setApart = result.disturbances ?? [];
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

  const all = peaks.map((peak, i): RunScore['judged'][number] => {
    const index = matchOf.get(i);
    if (index === undefined) return { peak };
    const match = found[index]!;
    return { peak, match, areaError: match.area / peak.areaInside - 1 };
  });
  const judged = all.filter(({ peak }) => peak.visible && peak.snr >= leastSignalToNoise);
  let credit = 0;
  for (const { areaError } of judged) {
    if (areaError !== undefined && Number.isFinite(areaError)) credit += Math.exp(-Math.abs(areaError) / errorScale);
  }
  const falsePeaks = found.filter((_, k) => !used.has(k));
  const onDisturbances = falsePeaks.filter(({ retentionTime: t, start, end }) =>
    run.truth.disturbances.some(
      (d) => (t >= d.from && t <= d.to) || (d.from === d.to && d.from >= start && d.from <= end),
    ),
  );
  const takenForDisturbance = all.filter(
    ({ peak, match }) =>
      match === undefined &&
      peak.visible &&
      peak.snr >= leastSeen &&
      setApart.some((d) => d.kind !== 'gap' && d.kind !== 'saturation' && d.start <= peak.apex && d.end >= peak.apex),
  ).length;
  const quality =
    judged.length === 0 ? Math.max(0, 1 - 0.5 * falsePeaks.length) : (credit - 0.5 * falsePeaks.length) / judged.length;
  return {
    run,
    found,
    judged,
    all,
    falsePeaks,
    onDisturbances,
    takenForDisturbance,
    quality: exception === undefined ? quality : 0,
    ...(exception === undefined ? {} : { exception }),
    nonFinite,
    milliseconds,
  };
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
