import { checkNumber, checkOneOf, failOption, resolveOptions } from '../core/index.js';
import { createWorkspace } from '../numeric/index.js';
import {
  bridgeSpikes,
  buildPyramid,
  checkReadings,
  layDecisionGrid,
  scanNoise,
  type Pyramid,
} from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import { arpls } from './arpls.js';
import type { Baseline } from './baseline.js';
import { takeBlockMeans, type BlockMeans, type Interval } from './block-means.js';
import { fitBaseline, knots } from './fit-baseline.js';

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

type Settings<T> = { readonly [K in keyof T]-?: Exclude<T[K], undefined> };

const knotsDefaults: Settings<KnotsOptions> = {
  kind: 'knots',
  avoid: [],
  steps: [],
  peakWidth: 'automatic',
  sharpestBend: 'automatic',
};

const arplsDefaults: Settings<ArplsOptions> = { kind: 'arpls', avoid: [], sharpestBend: 'automatic' };

/** Readings without which there is no baseline to speak of. */
const fewestReadings = 24;
/** Free block means that fix a line. */
const fewestFree = 3;
/** Means that the line of arPLS is laid through for each sharpest bend. */
const meansPerBend = 32;
/** [-] Change of the weights that counts as rest, and how long it is waited for. */
const ratio = 1e-6;
const mostRounds = 200;

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
 *   When its weights do not come to rest in 200 rounds, `warnings` say so (`arpls-not-settled`).
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
 * Cost: linear in N; the solution itself works on some 50 to 500 means, on more where bends or peaks are sharp.
 *
 * @see P. Craven, G. Wahba, Numer. Math. 31 (1979) 377-403, for cross-validation; E. T. Whittaker (1923) and
 *   P. H. C. Eilers, Anal. Chem. 75 (2003) 3631-3636, for the penalised line; S.-J. Baek, A. Park, Y.-J. Ahn, J. Choo,
 *   Analyst 140 (2015) 250-257, for the weights of `'arpls'` (all from memory).
 *
 * @public
 */
export function estimateBaseline(trace: Trace, options: BaselineOptions = {}): Baseline {
  const kind = options?.kind ?? 'knots';
  checkOneOf(caller, 'kind', kind, ['knots', 'arpls']);
  const isArpls = kind === 'arpls';
  const { avoid, steps, peakWidth, sharpestBend } = {
    ...knotsDefaults,
    ...(isArpls
      ? resolveOptions(caller, arplsDefaults, options as ArplsOptions)
      : resolveOptions(caller, knotsDefaults, options as KnotsOptions)),
  };
  const { time, gaps } = trace;
  checkReadings(caller, trace, fewestReadings);
  checkList('avoid', avoid, 'a stretch with from before to', (stretch) => stretch?.from <= stretch?.to);
  checkList('steps', steps, 'a time in minutes', Number.isFinite);
  const duration = time[time.length - 1]! - time[0]!;
  const width = positive('peakWidth', peakWidth, duration / 100);
  const bend = positive('sharpestBend', sharpestBend, isArpls ? duration / 20 : 4 * width);
  const workspace = createWorkspace();
  const laid = layDecisionGrid(trace, workspace);
  const noise = scanNoise(buildPyramid(laid, workspace), workspace);
  const pyramid = buildPyramid(bridgeSpikes(laid, noise, workspace).grid, workspace);
  const taken = [...avoid, ...gaps];
  const blocks = takeBlockMeans(pyramid, taken, steps, isArpls ? bend / meansPerBend : width, workspace);
  if (blocks.w.filter((w) => w > 0).length < fewestFree) {
    failOption(caller, 'avoid', `shorter, so that ${fewestFree} means of short blocks stay free`, avoid);
  }
  return isArpls
    ? layArpls(pyramid, blocks, Math.max(bend / blocks.distance, 1))
    : fitBaseline(pyramid, noise, taken, steps, width, bend, workspace).baseline;
}

/** The line of {@link arpls} through block means, as stiff as waves of so many blocks over 2 pi demand. */
function layArpls(pyramid: Pyramid, blocks: BlockMeans, bend: number): Baseline {
  const { y, w } = blocks;
  const { level, inverse, scatter, settled } = arpls(y, w, bend * bend * bend * bend, ratio, mostRounds);
  const joined = w.map(() => 1);
  const baseline = { ...knots(pyramid, blocks, level, inverse, scatter, joined, []), kind: 'arpls' };
  if (settled) return baseline;
  const message = `The weights of the arPLS baseline still change after ${mostRounds} rounds; the line may still move a little.`;
  return { ...baseline, warnings: [{ code: 'arpls-not-settled', message }] };
}

function positive(field: string, value: number | 'automatic', automatic: number): number {
  if (value === 'automatic') return automatic;
  checkNumber(caller, field, value, "a number of minutes above 0, or 'automatic'", (v) => v > 0);
  return value;
}

function checkList<T>(field: string, list: readonly T[], expected: string, holds: (item: T) => boolean): void {
  const given: unknown = list;
  if (!Array.isArray(given)) failOption(caller, field, 'an array', given);
  list.forEach((item, i) => {
    if (!holds(item)) failOption(caller, `${field}[${i}]`, expected, item);
  });
}
