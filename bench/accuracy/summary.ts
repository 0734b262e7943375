import { areaFloor } from './floor.js';
import { leastSeen, leastSignalToNoise, type RunScore } from './score.js';

type Judged = RunScore['judged'][number];

/** Size of relative errors, in per cent. */
export interface ErrorSize {
  readonly count: number;
  readonly median: number;
  readonly rms: number;
}

/** Share of intervals that hold the truth, of how many. */
export interface Coverage {
  readonly count: number;
  readonly share: number;
}

export interface Summary {
  readonly runs: number;
  /** [-] Shares of true peaks that were found; absent without such peaks. */
  readonly recall?: number;
  readonly recallHidden?: number;
  readonly recallWeak?: number;
  /** Of found peaks that are none, in a run: all, and those on a disturbance. */
  readonly falsePerRun: number;
  readonly onDisturbancesPerRun: number;
  readonly takenForDisturbancePerRun: number;
  /** [%] Median of |area error| of isolated found peaks with S/N ≥ 10, and 90th percentile of all found ones. */
  readonly medianIsolated?: number;
  readonly ninetieth?: number;
  readonly quality: number;
  readonly exceptions: number;
  readonly nonFinite: number;
  readonly milliseconds: number;
}

export function summarise(scores: readonly RunScore[]): Summary {
  const judged = scores.flatMap((s) => s.judged);
  const all = scores.flatMap((s) => s.all);
  const errors = (of: readonly Judged[]): number[] =>
    of.flatMap(({ areaError }) => (areaError === undefined ? [] : [Math.abs(areaError) * 100]));
  const mean = (f: (s: RunScore) => number): number => scores.reduce((sum, s) => sum + f(s), 0) / scores.length;
  const hidden = all.filter(
    ({ peak }) => !peak.visible && peak.snr >= leastSignalToNoise && !peak.cut && !peak.clipped,
  );
  const weak = all.filter(({ peak: { visible, snr } }) => visible && snr >= leastSeen && snr < leastSignalToNoise);
  return {
    runs: scores.length,
    ...present({
      recall: shareFound(judged),
      recallHidden: shareFound(hidden),
      recallWeak: shareFound(weak),
      medianIsolated: quantile(errors(judged.filter(({ peak }) => peak.isolated)), 0.5),
      ninetieth: quantile(errors(judged), 0.9),
    }),
    falsePerRun: mean((s) => s.falsePeaks.length),
    onDisturbancesPerRun: mean((s) => s.onDisturbances.length),
    takenForDisturbancePerRun: mean((s) => s.takenForDisturbance),
    quality: mean((s) => s.quality),
    exceptions: scores.filter((s) => s.exception !== undefined).length,
    nonFinite: scores.reduce((sum, s) => sum + s.nonFinite, 0),
    milliseconds: mean((s) => s.milliseconds),
  };
}

/** Classes of S/N. */
const classes: readonly (readonly [number, number])[] = [
  [leastSeen, leastSignalToNoise],
  [leastSignalToNoise, 30],
  [30, 100],
  [100, 1000],
  [1000, Infinity],
];
const className = (low: number, high: number): string =>
  high === Infinity ? `S/N from ${low}` : `S/N ${low} to ${high}`;

/** Errors by class of S/N: class, all found, isolated found. */
export function errorsByClass(scores: readonly RunScore[]): { name: string; all?: ErrorSize; isolated?: ErrorSize }[] {
  const found = scores.flatMap((s) => s.all).filter(({ peak, areaError }) => peak.visible && areaError !== undefined);
  return classes.map(([low, high]) => {
    const inside = found.filter(({ peak: { snr } }) => snr >= low && snr < high);
    const of = (some: readonly Judged[]): ErrorSize | undefined =>
      sizeOf(some.map(({ areaError }) => areaError! * 100));
    return {
      name: className(low, high),
      ...present({ all: of(inside), isolated: of(inside.filter(({ peak }) => peak.isolated)) }),
    };
  });
}

/** Sizes over the least possible standard deviation, of found isolated peaks in runs whose noise does not wander. */
export interface OverFloor {
  readonly name: string;
  readonly count: number;
  /** [-] Root mean square of the error, and what the median of its size says of a normal error. */
  readonly rms?: number;
  readonly typical?: number;
  /** [-] Median of the stated uncertainty. */
  readonly stated?: number;
}

export function overFloor(scores: readonly RunScore[]): OverFloor[] {
  const found = scores.flatMap(({ run, all }) =>
    all.flatMap(({ peak, match, areaError }) => {
      const density = run.truth.noiseDensity;
      if (match === undefined || areaError === undefined || density === undefined || !peak.isolated) return [];
      const floor = areaFloor(peak.height, peak.sigma, density);
      const stated =
        match.areaUncertainty === undefined ? undefined : match.areaUncertainty / Math.abs(peak.areaInside);
      return [{ snr: peak.snr, error: areaError / floor, stated: stated === undefined ? undefined : stated / floor }];
    }),
  );
  return classes.map(([low, high]) => {
    const inside = found.filter(({ snr }) => snr >= low && snr < high);
    const size = sizeOf(inside.map(({ error }) => error));
    return {
      name: className(low, high),
      count: inside.length,
      ...present({
        rms: size?.rms,
        typical: size && size.median / 0.6744898,
        stated: quantile(
          inside.flatMap(({ stated }) => stated ?? []),
          0.5,
        ),
      }),
    };
  });
}

/** Medians of the absolute errors of what is measured, on isolated peaks with S/N ≥ 10. */
export interface MeasureErrors {
  /** [%] of the height. */
  readonly height?: number;
  /** [%] of the Gaussian sigma. */
  readonly retention?: number;
  /** [%] */
  readonly plates?: number;
  readonly tailing?: number;
  /** [%] Between two neighbours that were both found, isolated or not. */
  readonly resolution?: number;
}

export function measureErrors(scores: readonly RunScore[]): MeasureErrors {
  const size: Record<keyof MeasureErrors, number[]> = { height: [], retention: [], plates: [], tailing: [], resolution: [] }; // prettier-ignore
  const add = (name: keyof MeasureErrors, value: number | undefined, truth: number): void => {
    if (value !== undefined) size[name].push(Math.abs(value / truth - 1) * 100);
  };
  for (const { judged, all } of scores) {
    for (const { peak, match } of judged) {
      if (match === undefined || !peak.isolated) continue;
      add('height', match.height, peak.height);
      size.retention.push((Math.abs(match.retentionTime - peak.apex) / peak.sigma) * 100);
      add('plates', match.plates, (peak.apex / peak.sigma) ** 2);
      add('tailing', match.tailing, (peak.end - peak.start) / (2 * (peak.apex - peak.start)));
    }
    const sorted = [...all].sort((a, b) => a.peak.apex - b.peak.apex);
    sorted.forEach(({ peak, match }, i) => {
      const before = sorted[i - 1];
      if (before?.match === undefined || match === undefined || !judged.some((j) => j.peak === peak)) return;
      if (peak.cut || peak.clipped || before.peak.cut || before.peak.clipped) return;
      add('resolution', match.resolution, (peak.apex - before.peak.apex) / (2 * (peak.sigma + before.peak.sigma)));
    });
  }
  return present({
    height: quantile(size.height, 0.5),
    retention: quantile(size.retention, 0.5),
    plates: quantile(size.plates, 0.5),
    tailing: quantile(size.tailing, 0.5),
    resolution: quantile(size.resolution, 0.5),
  });
}

/** What the stated uncertainties are worth, on found visible peaks with S/N ≥ 3. */
export interface Intervals {
  /** [-] Share of found peaks that have one. */
  readonly present?: number;
  /** Truly isolated peaks whose limits lie on the baseline, and divided ones. */
  readonly isolated?: Coverage;
  readonly divided?: Coverage;
}

export function intervals(scores: readonly RunScore[]): Intervals {
  const found = scores
    .flatMap((s) => s.all)
    .filter(({ peak, match }) => match !== undefined && peak.visible && peak.snr >= leastSeen);
  const coverage = (some: readonly Judged[]): Coverage | undefined => {
    const having = some.filter(({ match }) => match!.areaUncertainty !== undefined);
    const holding = having.filter(
      ({ peak, match }) => Math.abs(match!.area - peak.areaInside) <= 1.959964 * match!.areaUncertainty!,
    );
    return having.length === 0 ? undefined : { count: having.length, share: holding.length / having.length };
  };
  const having = found.filter(({ match }) => match!.areaUncertainty !== undefined).length;
  return present({
    present: found.length === 0 ? undefined : having / found.length,
    isolated: coverage(found.filter(({ peak, match }) => peak.isolated && match!.divided !== true)),
    divided: coverage(found.filter(({ match }) => match!.divided === true)),
  });
}

/**
 * Share of isolated peaks with S/N ≥ 10 beside which, within one and a half widths
 * at 5 % of the apex, something was found that is nothing.
 */
export function shareSplit(scores: readonly RunScore[]): Coverage | undefined {
  const single = scores.flatMap((s) =>
    s.judged
      .filter(({ peak, match }) => peak.isolated && match !== undefined)
      .map(({ peak: { apex, start, end } }) =>
        s.falsePeaks.some(({ retentionTime }) => Math.abs(retentionTime - apex) < 1.5 * (end - start)),
      ),
  );
  return single.length === 0
    ? undefined
    : { count: single.length, share: single.filter((isSplit) => isSplit).length / single.length };
}

function shareFound(judged: readonly Judged[]): number | undefined {
  return judged.length === 0 ? undefined : judged.filter(({ match }) => match !== undefined).length / judged.length;
}

function sizeOf(errors: readonly number[]): ErrorSize | undefined {
  const median = quantile(
    errors.map((e) => Math.abs(e)),
    0.5,
  );
  if (median === undefined) return undefined;
  return {
    count: errors.length,
    median,
    rms: Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length),
  };
}

export function quantile(values: readonly number[], p: number): number | undefined {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => a - b);
  const at = p * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.ceil(at);
  return sorted[low]! + (sorted[high]! - sorted[low]!) * (at - low);
}

/** Without what is undefined. */
function present<T extends object>(object: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(object).filter(([, value]) => value !== undefined)) as never;
}
