import { baselineAt, baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { findFlatTop, firstAtOrAfter, halfWidthOfSigma, liftPeak, polylineAt } from '../numeric/index.js';
import { defined } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { areaDeviations } from './area-deviation.js';
import { apexOf, areaOf, chooseCurves, heightOf } from './choose-curves.js';
import { addCurve, curveFor, fitCurves, type Curve, type CurveFit } from './curve-fit.js';
import { curveKinds } from './curve-kinds.js';
import { takeFitWindow, type FitWindow } from './fit-window.js';
import type { IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
import { revealPeaks } from './reveal-peaks.js';

/**
 * [signal unit] Noise of a mean at a time over a length of time, both in minutes.
 *
 * @public
 */
export type NoiseOfMean = (time: number, length: number) => number;

/** [widths] Regions closer than this part of a peak's length are fitted together. */
const near = 0.02;
/** Peaks fitted together at the most; where more touch they are parted at the deepest valleys. */
const mostTogether = 5;
/** Hidden peaks looked for in one fit. */
const mostHidden = 2;
/** [sigma] How far a fit looks beyond the limits of its peaks. */
const before = 2;
const after = 3;
/** [-] Share of a peak that may be left outside its limits. */
const leftOutside = 0.001;

/** [noise of a mean times its half length] Area of a tail that noise hides. */
const unseenTail = 6;

/** A peak as it is seen before the fit. */
interface Seen {
  readonly peak: PlannedPeak;
  readonly height: number;
  readonly sigma: number;
  /** [min] Where the detector was at its limit. */
  readonly flat: { readonly from: number; readonly to: number } | undefined;
}

/**
 * Fits curves to every region of a plan on the raw signal. Peaks that touch are
 * then divided by their share of the curves instead of at their valley; peaks
 * without a maximum of their own are revealed where the evidence demands it; the
 * baseline is settled locally, and limits are moved out to where a thousandth of
 * the peak is left. A region that cannot be fitted stays as it is.
 *
 * Every peak begins as an exponentially modified Gaussian; others (fronting,
 * log-normal, split Gaussian, with a small slow tail) are taken where they leave
 * three quarters of the squares or less. A peak is revealed when the misfit, in noise
 * after allowing 0.3 % of the signal for the shape, falls to 0.4 of what any
 * shapes of the others leave, and to 2.5 or less.
 *
 * @param trace - The record, N samples.
 * @param plan - The plan; see {@link planIntegration}.
 * @param noiseOf - [signal unit] Noise of a mean at a time over a length of time.
 * @param leave - Regions that are to stay as they are.
 * @returns A new plan, with curves for every region that was fitted.
 * @throws PeakwrightError never: a region whose fit fails is left as it is.
 * @see {@link emg} and {@link logNormal} for the shapes and their sources. The allowances and limits are our own, chosen on simulated runs.
 *
 * @public
 */
export function fitRegions(
  trace: Trace,
  plan: IntegrationPlan,
  noiseOf: NoiseOfMean,
  leave: (region: PlannedRegion) => boolean = () => false,
): IntegrationPlan {
  const baselines = new Map(plan.baselines.map((b) => [b.id, b]));
  const groups = groupRegions(trace, plan.regions, baselines);
  const taken = new Set(plan.regions.flatMap(({ peaks }) => peaks.map((p) => p.id)));
  const fitted: { region: PlannedRegion; baseline?: Baseline }[] = [];
  /** Curves of the group before, whose tail the next may stand on. */
  let earlier: readonly Curve[] = [];
  groups.forEach((group, g) => {
    const from = groups[g - 1]?.at(-1)?.end ?? trace.time[0]!;
    const to = groups[g + 1]?.[0]?.start ?? trace.time.at(-1)!;
    const begin = Math.max(from, fitted.at(-1)?.region.end ?? from);
    const result = group.some(leave)
      ? undefined
      : fitGroup(trace, group, baselines, begin, to, noiseOf, taken, earlier);
    earlier = result?.curves ?? [];
    if (result) fitted.push(result);
    else fitted.push(...group.map((region) => ({ region })));
  });
  return {
    ...plan,
    baselines: [...plan.baselines, ...fitted.flatMap(({ baseline }) => baseline ?? [])],
    regions: fitted.map(({ region }) => region),
  };
}

/** Regions that nearly touch, together; long chains in parts. */
function groupRegions(
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

/** Fits one group; nothing when it cannot be fitted. */
function fitGroup(
  trace: Trace,
  group: readonly PlannedRegion[],
  baselines: ReadonlyMap<string, Baseline>,
  from: number,
  to: number,
  noiseOf: NoiseOfMean,
  taken: Set<string>,
  earlier: readonly Curve[],
): Settled | undefined {
  const peaks = group.flatMap((r) => r.peaks);
  const run = baselines.get(peaks[0]!.baseline)!;
  if (peaks.some((p) => p.baseline !== run.id)) return undefined;
  const seen = peaks.map((peak) => lookAt(trace, run, peak));
  if (!seen.every(({ height, sigma, peak }) => height * directionOf(peak) > 0 && sigma > 0)) return undefined;
  const first = seen[0]!;
  const last = seen.at(-1)!;
  const window = takeFitWindow(
    trace,
    run,
    Math.max(from, first.peak.start - before * first.sigma),
    Math.min(to, last.peak.end + after * last.sigma),
    Math.min(...seen.map((s) => s.sigma)),
    Math.max(...seen.map((s) => Math.abs(s.height))),
    noiseOf,
    seen.flatMap(({ flat }) => flat ?? []),
    earlier,
  );
  if (window === undefined || window.count < 5 * peaks.length + 2) return undefined;
  const plain = fitCurves(
    window,
    seen.map(({ peak, height, sigma }, i) => curveFor('tailing', i, height, peak.apex, sigma)),
  );
  if (plain === undefined) return undefined;
  const chosen = chooseCurves(window, plain, curveKinds);
  // Near its limit a detector bends every shape: there a misfit shows no hidden peak.
  const hidden = seen.some(({ flat }) => flat) ? 0 : mostHidden;
  const revealed = revealPeaks(window, plain, chosen, curveKinds, hidden);
  const fit = { ...revealed, curves: byNearest(revealed.curves, peaks) };
  if (!isSound(fit, seen)) return undefined;
  return settle(run, peaks, window, fit, taken);
}

function directionOf({ direction }: PlannedPeak): 1 | -1 {
  return direction === 'up' ? 1 : -1;
}

/** A fitted group. */
interface Settled {
  readonly region: PlannedRegion;
  readonly baseline: Baseline;
  readonly curves: readonly Curve[];
}

/** Height and standard deviation of a peak; of a flank that a neighbour covers the other one speaks. */
function lookAt(trace: Trace, baseline: Baseline, peak: PlannedPeak): Seen {
  const { start, end, apex } = peak;
  const sign = directionOf(peak);
  const { whole, front, back } = liftPeak(trace.time, trace.signal, baseline, start, end, sign, apex);
  const height = polylineAt(whole, apex);
  const open = (t: number) => polylineAt(whole, t) > height / 2;
  const sides = [open(start) ? 0 : front, open(end) ? 0 : back].filter((s) => s > 0);
  const sigma =
    sides.length > 0 ? sides.reduce((a, b) => a + b, 0) / sides.length : (end - start) / 4 / halfWidthOfSigma;
  return { peak, height: sign * height, sigma, flat: findFlatTop(trace.time, trace.signal, start, end, sign, sigma) };
}

/** The curves, each peak that is seen with the one whose apex is nearest: a fit may have exchanged them. */
function byNearest(curves: readonly Curve[], peaks: readonly PlannedPeak[]): Curve[] {
  const apexes = curves.map(apexOf);
  const owner = curves.map(() => -1);
  peaks.forEach(({ apex }, p) => {
    let best = -1;
    apexes.forEach((at, i) => {
      if (owner[i] === -1 && (best < 0 || Math.abs(at - apex) < Math.abs(apexes[best]! - apex))) best = i;
    });
    owner[best] = p;
  });
  return curves.map((curve, i) => ({ ...curve, peak: owner[i]! }));
}

/** Whether every peak that is seen kept its place. */
function isSound({ curves }: CurveFit, seen: readonly Seen[]): boolean {
  return curves.every((curve) => {
    const height = heightOf(curve);
    if (!(height > 0 && Number.isFinite(height))) return false;
    const own = seen[curve.peak];
    if (own === undefined) return true;
    const apex = apexOf(curve);
    return apex > own.peak.start - own.sigma && apex < own.peak.end + own.sigma;
  });
}

/** The plan of a fitted group. */
function settle(
  run: Baseline,
  peaks: readonly PlannedPeak[],
  window: FitWindow,
  fit: CurveFit,
  taken: Set<string>,
): Settled {
  const deviations = areaDeviations(fit);
  const order = fit.curves.map((_, i) => i).sort((a, b) => apexOf(fit.curves[a]!) - apexOf(fit.curves[b]!));
  const curves = order.map((i) => fit.curves[i]!);
  const baseline = settledBaseline(`under ${peaks[0]!.id}`, run, window, fit);
  const [from, to] = reach(window, curves);
  const start = Math.min(peaks[0]!.start, from);
  const end = Math.max(peaks.at(-1)!.end, to);
  const limits = [start];
  const least = 1e-6 * (end - start);
  for (let i = 1; i < curves.length; i++) {
    const [a, b] = [curves[i - 1]!, curves[i]!];
    const at = a.peak >= 0 && b.peak === a.peak + 1 ? peaks[b.peak]!.start : crossing(a, b);
    // Between hidden peaks a valley and a crossing may come in the wrong order.
    limits.push(Math.min(Math.max(at, limits[i - 1]! + least), end - least * (curves.length - i)));
  }
  limits.push(end);
  const planned = curves.map((curve, i): PlannedPeak => {
    const [a, b] = [limits[i]!, limits[i + 1]!];
    const own = peaks[curve.peak];
    const kind = (at: 0 | 1): LimitKind => {
      const outer = at === 0 ? i === 0 : i === curves.length - 1;
      if (!outer) return 'fit';
      return at === 0 ? peaks[0]!.startKind : peaks.at(-1)!.endKind;
    };
    const limitsOf = { start: a, end: b, startKind: kind(0), endKind: kind(1), baseline: baseline.id };
    if (own) return { ...own, ...limitsOf };
    const apex = apexOf(curve);
    let id = `p${apex.toFixed(3)}`;
    for (let k = 2; taken.has(id); k++) id = `p${apex.toFixed(3)}-${k}`;
    taken.add(id);
    return {
      id,
      apex,
      ...limitsOf,
      direction: curve.sign === 1 ? 'up' : 'down',
      revealed: true,
      decisions: [
        {
          about: 'peak',
          rule: 'hidden beside another',
          at: apex,
          value: fit.misfit,
          text: 'No maximum of its own: without it no shapes of the others follow the signal.',
        },
      ],
    };
  });
  return {
    curves,
    baseline,
    region: {
      start,
      end,
      peaks: planned,
      curves: curves.map(({ kind, sign, parameters }, i) => ({
        peak: planned[i]!.id,
        kind,
        parameters: [sign * parameters[0]!, ...parameters.slice(1)],
        ...defined({ areaUncertainty: deviations[order[i]!] }),
      })),
    },
  };
}

/** The baseline of the run with the line of the fit, over the window. */
function settledBaseline(id: string, run: Baseline, window: FitWindow, { line }: CurveFit): Baseline {
  const { middle, half } = window;
  const own = window.tail ? window.time.subarray(0, window.count) : run.time;
  const room = half * (1 - 1e-6);
  const inside = own.slice(firstAtOrAfter(own, middle - room), firstAtOrAfter(own, middle + room));
  const time = [middle - half, ...inside, middle + half];
  const tail = (t: number) =>
    window.tail ? polylineAt({ time: window.time.subarray(0, window.count), value: window.tail }, t) : 0;
  return {
    id,
    kind: 'settled by a fit',
    time,
    value: time.map((t) => baselineAt(run, t) + tail(t) + line[0] + (line[1] * (t - middle)) / half),
    uncertainty: time.map((t) => baselineUncertaintyAt(run, t)),
  };
}

/** [min] First and last time outside which the curves hold no more than a thousandth, or than noise hides. */
function reach({ time, count, middle, half, noise }: FitWindow, curves: readonly Curve[]): [number, number] {
  const sum = new Float64Array(count);
  for (const curve of curves) addCurve({ ...curve, sign: 1 }, time, count, sum);
  const edge = (first: number, step: 1 | -1, curve: Curve): number => {
    let left = 0;
    // What cannot be told from noise gives no reason to move a limit.
    const most = Math.max(leftOutside * areaOf(curve), unseenTail * noise * (half / count));
    for (let k = first; k >= 0 && k < count; k += step) {
      const width = Math.abs((time[k + step] ?? time[k]!) - time[k]!);
      left += sum[k]! * width;
      if (left > most) return time[k]!;
    }
    return middle;
  };
  return [
    Math.max(middle - half, edge(0, 1, curves[0]!)),
    Math.min(middle + half, edge(count - 1, -1, curves.at(-1)!)),
  ];
}

/** [min] Where the later of two curves becomes the larger; half way when it does not. */
function crossing(a: Curve, b: Curve): number {
  let low = apexOf(a);
  let high = apexOf(b);
  const place = new Float64Array(1);
  const difference = (t: number): number => {
    place[0] = t;
    const [va, vb] = [new Float64Array(1), new Float64Array(1)];
    addCurve({ ...a, sign: 1 }, place, 1, va);
    addCurve({ ...b, sign: 1 }, place, 1, vb);
    return vb[0]! - va[0]!;
  };
  if (difference(low) >= 0 || difference(high) <= 0) return (low + high) / 2;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (difference(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
