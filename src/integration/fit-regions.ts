import type { Baseline } from '../baseline/index.js';
import { findFlatTop, halfWidthOfSigma, liftPeak, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { byNearest } from './by-nearest.js';
import { apexOf, chooseCurves, heightOf } from './choose-curves.js';
import { curveFor, fitCurves, type Curve, type CurveFit } from './curve-fit.js';
import { curveKinds } from './curve-kinds.js';
import { takeFitWindow, tightened, type FitWindow } from './fit-window.js';
import { groupRegions } from './group-regions.js';
import type { IntegrationPlan, PlannedPeak, PlannedRegion } from './plan.js';
import { revealPeaks, suspicious } from './reveal-peaks.js';
import { sharpenFit } from './sharpen-fit.js';
import { straighten } from './straighten.js';
import { settle, type Settled } from './settle-fit.js';

/**
 * [signal unit] Noise of a mean at a time over a length of time, both in minutes.
 *
 * @public
 */
export type NoiseOfMean = (time: number, length: number) => number;

/** Hidden peaks looked for in one fit. */
const mostHidden = 2;
/** [sigma] How far a fit looks beyond the limits of its peaks. */
const before = 2;
const after = 3;

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
 * log-normal, split Gaussian, with a small slow tail, overloaded, polynomial) are taken where the squares fall
 * by 8 or more in units of the noise. A peak is revealed when the misfit falls to half
 * of what any shapes of the others leave, and to 1.6 or less, and when it is of the
 * width of its neighbour and stands out of it.
 *
 * @param record - The record, N samples.
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
  record: Trace,
  plan: IntegrationPlan,
  noiseOf: NoiseOfMean,
  leave: (region: PlannedRegion) => boolean = () => false,
): IntegrationPlan {
  const baselines = new Map(plan.baselines.map((b) => [b.id, b]));
  const trace = straighten(record, plan.bridged);
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
  const usual = seen.map(({ peak, height, sigma }, i) => curveFor('tailing', i, height, peak.apex, sigma));
  // Near its limit a detector bends every shape: there a misfit shows no hidden peak.
  const hidden = seen.some(({ flat }) => flat) ? 0 : mostHidden;
  const sharp = fitWindow(window, usual, hidden);
  if (sharp === undefined) return undefined;
  const fit = { ...sharp, curves: byNearest(sharp.curves) };
  if (!isSound(fit, seen)) return undefined;
  return settle(run, peaks, window, fit, taken);
}

/** The curves of a window: peaks that are seen, peaks that are not, and their kinds. */
function fitWindow(window: FitWindow, usual: readonly Curve[], hidden: number): CurveFit | undefined {
  const tight = tightened(window);
  const direct = fitCurves(tight, usual);
  // Nothing to look for: held to the signal less closely, the misfit is smaller still.
  if (direct && direct.misfit < suspicious) return sharpenFit(window, direct, curveKinds);
  const plain = fitCurves(window, usual);
  if (plain === undefined) return undefined;
  const chosen = chooseCurves(window, plain, curveKinds);
  const revealed = revealPeaks(window, plain, chosen, curveKinds, hidden);
  const first = fitCurves(tight, revealed.curves);
  return first ? sharpenFit(window, first, curveKinds) : revealed;
}

function directionOf({ direction }: PlannedPeak): 1 | -1 {
  return direction === 'up' ? 1 : -1;
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
