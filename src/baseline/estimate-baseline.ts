import { failOption, PeakwrightError, resolveOptions } from '../core/index.js';
import { createWorkspace } from '../numeric/index.js';
import { bridgeSpikes, buildPyramid, layDecisionGrid, scanNoise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Baseline } from './baseline.js';
import { estimateArpls } from './estimate-arpls.js';
import type { Interval } from './block-means.js';
import { fitBaseline } from './fit-baseline.js';
import { takeLine } from './take-line.js';

/**
 * Options of {@link estimateBaseline} with `kind: 'knots'`.
 *
 * @public
 */
export interface KnotsOptions {
  /**
   * Knots through the free stretches.
   *
   * @defaultValue 'knots'
   */
  readonly kind?: 'knots' | undefined;
  /**
   * Stretches that have no say: peaks. They may overlap and reach beyond the record.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [min] Times at which the baseline may jump.
   *
   * @defaultValue []
   */
  readonly steps?: readonly number[] | undefined;
  /**
   * [min] Standard deviation of the narrower peaks; it sets the distance of the knots. Automatic: a hundredth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly peakWidth?: number | 'automatic' | undefined;
  /**
   * [min] No bend of the baseline is sharper than this, unless its free stretches demand it. Automatic: four times `peakWidth`.
   *
   * @defaultValue 'automatic'
   */
  readonly sharpestBend?: number | 'automatic' | undefined;
}

/**
 * Options of {@link estimateBaseline} with `kind: 'arpls'`.
 *
 * @public
 */
export interface ArplsOptions {
  /** Asymmetrically reweighted penalised least squares. */
  readonly kind: 'arpls';
  /**
   * Stretches that have no say. They may overlap and reach beyond the record.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [min] Stiffness: a wave of 2 pi times this is followed by half, a shorter one less, a longer one
   * more. Lambda is (this / distance of two means)⁴. Automatic: a twentieth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly sharpestBend?: number | 'automatic' | undefined;
}

/**
 * Options of {@link estimateBaseline}: the kind, and the settings of that kind.
 *
 * @public
 */
export type BaselineOptions = KnotsOptions | ArplsOptions;

const caller = 'estimateBaseline';

const knotsDefaults: {
  readonly kind: 'knots';
  readonly avoid: readonly Interval[];
  readonly steps: readonly number[];
  readonly peakWidth: number | 'automatic';
  readonly sharpestBend: number | 'automatic';
} = { kind: 'knots', avoid: [], steps: [], peakWidth: 'automatic', sharpestBend: 'automatic' };

const arplsDefaults: {
  readonly kind: 'arpls';
  readonly avoid: readonly Interval[];
  readonly sharpestBend: number | 'automatic';
} = { kind: 'arpls', avoid: [], sharpestBend: 'automatic' };

/** Readings without which there is no baseline to speak of. */
const fewestReadings = 24;
/** Free readings that fix a line. */
const fewestFree = 3;

/**
 * Estimates the level a record would have without peaks. It knows nothing of
 * peaks: `avoid` says where they are, and `findPeaks` or a peak table tells.
 *
 * - `'knots'`: means of short blocks outside `avoid`, joined by a penalised spline
 *   whose stiffness is chosen by cross-validation. It runs straight on below what is avoided, be it
 *   as broad as it may, and treats both directions alike. Without `avoid` it follows every peak that
 *   is broad against a hundredth of the run.
 * - `'arpls'`: a stiff line that gives what stands above it no weight. It finds its own
 *   way without `avoid` below upward peaks: of a lone one as broad as the sharpest bend (standard deviation) it takes
 *   0.2 % of the area, of one twice as broad 1 %. Downward peaks draw it down, and peaks that
 *   leave no ground between them lift it: avoid both. In noise alone it runs a tenth of the scatter of its means too low.
 *   When its weights do not come to rest in 200 rounds, `warnings` say by how much they still change (`arpls-not-settled`).
 *
 * Lone spikes of up to three readings are bridged first, gaps have no say, and an
 * unevenly sampled record is interpolated. The uncertainty is the scatter of the
 * block means through the solution: it does not know of curvature the line is too stiff for.
 *
 * @param trace - The record, N samples; read, never changed.
 * @param options - The kind and its settings; see {@link KnotsOptions} and {@link ArplsOptions}.
 * @returns Knots from the first sample to the last with level and standard uncertainty.
 *
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown` for a wrong option, or when `avoid` leaves
 *   nothing free; `trace-too-short` when the record has fewer than 24 readings.
 *
 * @example
 * ```ts
 * const { trace } = simulateTrace({
 *   duration: 10,
 *   interval: 0.2,
 *   baseline: { offset: 2, drift: 6 },
 *   peaks: [{ shape: 'gaussian', retentionTime: 5, height: 100, sigma: 0.1 }],
 *   noise: { white: 0.01 },
 *   seed: 1,
 * });
 * const baseline = estimateBaseline(trace, { avoid: [{ from: 4.4, to: 5.6 }] });
 * const beneath = baseline.time.findIndex((t) => t > 5);
 * Math.abs(baseline.value[beneath] - (2 + baseline.time[beneath] / 10)) < 0.01; // => true
 * ```
 *
 * @remarks
 * Cost: linear in N; the solution itself works on no more than 1000 means.
 *
 * @see P. Craven, G. Wahba, Numer. Math. 31 (1979) 377-403, for cross-validation; E. T. Whittaker (1923) and
 *   P. H. C. Eilers, Anal. Chem. 75 (2003) 3631-3636, for the penalised line; S.-J. Baek, A. Park, Y.-J. Ahn, J. Choo,
 *   Analyst 140 (2015) 250-257, for the weights of `'arpls'` (all from memory).
 *
 * @public
 */
export function estimateBaseline(trace: Trace, options: BaselineOptions = {}): Baseline {
  const kind: unknown = options?.kind ?? 'knots';
  const settings =
    kind === 'arpls'
      ? resolveOptions(caller, arplsDefaults, options as ArplsOptions)
      : kind === 'knots'
        ? resolveOptions(caller, knotsDefaults, options as KnotsOptions)
        : failOption(caller, 'kind', "'knots' or 'arpls'", kind);
  const { time } = trace;
  const n = time.length;
  if (n < fewestReadings) {
    throw new PeakwrightError(
      'trace-too-short',
      `${caller}: a baseline needs ${fewestReadings} readings; the trace has ${n}.`,
      { value: n, expected: `at least ${fewestReadings} readings` },
    );
  }
  const duration = time[n - 1]! - time[0]!;
  const avoid = mergeIntervals(settings.avoid, trace);
  const workspace = createWorkspace();
  const laid = layDecisionGrid(trace, workspace);
  const noise = scanNoise(buildPyramid(laid, workspace), workspace);
  const bridged = bridgeSpikes(laid, noise, workspace);
  const { grid, line } = takeLine(bridged.grid, avoid, workspace);
  let level: Baseline;
  if (settings.kind === 'arpls') {
    level = estimateArpls(grid, avoid, positive('sharpestBend', settings.sharpestBend, duration / 20));
  } else {
    const width = positive('peakWidth', settings.peakWidth, duration / 100);
    const bend = positive('sharpestBend', settings.sharpestBend, 4 * width);
    const steps = list('steps', settings.steps);
    steps.forEach((t, i) => {
      if (!Number.isFinite(t)) failOption(caller, `steps[${i}]`, 'a time in minutes', t);
    });
    // The block that holds a step has the mean of neither level.
    const around = [...avoid, ...steps.map((t) => ({ from: t - width / 2, to: t + width / 2 }))];
    level = fitBaseline(buildPyramid(grid, workspace), noise, around, steps, width, bend, workspace).baseline;
  }
  return { ...level, value: level.value.map((v, i) => v + line.at + line.slope * (level.time[i]! - line.time)) };
}

function positive(field: string, value: number | 'automatic', automatic: number): number {
  if (value === 'automatic') return automatic;
  if (!(value > 0 && value < Infinity)) failOption(caller, field, "a number of minutes above 0, or 'automatic'", value);
  return value;
}

function list<T>(field: string, value: readonly T[]): readonly T[] {
  const given: unknown = value;
  if (!Array.isArray(given)) failOption(caller, field, 'an array', given);
  return value;
}

/** What to avoid and the gaps, in order, without overlap; refused when too little is left. */
function mergeIntervals(avoid: readonly Interval[], trace: Trace): Interval[] {
  const all = [...list('avoid', avoid), ...trace.gaps];
  all.forEach((interval, i) => {
    if (!(interval?.from <= interval?.to)) failOption(caller, `avoid[${i}]`, 'a stretch with from before to', interval);
  });
  const merged: { from: number; to: number }[] = [];
  for (const { from, to } of all.sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else merged.push({ from, to });
  }
  let free = 0;
  let a = 0;
  for (let i = 0; i < trace.time.length && free < fewestFree; i++) {
    const t = trace.time[i]!;
    while (a < merged.length && merged[a]!.to < t) a++;
    if (a === merged.length || merged[a]!.from > t) free++;
  }
  if (free < fewestFree) failOption(caller, 'avoid', 'shorter: it leaves fewer than three readings free', avoid);
  return merged;
}
