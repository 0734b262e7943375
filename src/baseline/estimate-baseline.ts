import { checkNumber, checkOneOf, checkWhole, failOption, resolveOptions } from '../core/index.js';
import { createWorkspace } from '../numeric/index.js';
import { bridgeSpikes, buildPyramid, checkReadings, layDecisionGrid, scanNoise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import { arpls, arplsDefaults, type ArplsOptions } from './arpls.js';
import { asls, aslsDefaults, type AslsOptions } from './asls.js';
import type { Baseline } from './baseline.js';
import { takeBlockMeans, type Interval } from './block-means.js';
import { fitBaseline } from './fit-baseline.js';
import type { LevelEstimator } from './level-fit.js';
import { layLevel, onResampled, type Seen } from './lay-level.js';
import { polynomialBaseline, polynomialDefaults, type PolynomialBaselineOptions } from './polynomial-baseline.js';
import { snip, snipDefaults, type SnipOptions } from './snip.js';
import {
  cornersAt,
  cornersAtFreeEnds,
  cornersBelow,
  straightDefaults,
  type Corners,
  type StraightOptions,
} from './straight-baseline.js';

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
 * Options of {@link estimateBaseline}: the kind, and the settings of that kind.
 *
 * @public
 */
export type BaselineOptions =
  KnotsOptions | ArplsOptions | AslsOptions | SnipOptions | PolynomialBaselineOptions | StraightOptions;

const caller = 'estimateBaseline';

type Settings<T> = { readonly [K in keyof T]-?: Exclude<T[K], undefined> };

const knotsDefaults: Settings<KnotsOptions> = {
  kind: 'knots',
  avoid: [],
  steps: [],
  peakWidth: 'automatic',
  sharpestBend: 'automatic',
};

/** Every kind with what it is asked when nothing is said. */
const kinds = {
  knots: knotsDefaults,
  arpls: arplsDefaults as Settings<ArplsOptions>,
  asls: aslsDefaults as Settings<AslsOptions>,
  snip: snipDefaults as Settings<SnipOptions>,
  polynomial: polynomialDefaults as Settings<PolynomialBaselineOptions>,
  straight: straightDefaults as Settings<StraightOptions>,
};

/** Readings without which there is no baseline to speak of. */
const fewestReadings = 24;
/** Free block means that fix a line. */
const fewestFree = 3;
/** Means that a stiff line is laid through for each sharpest bend, and that are clipped for each half width. */
const meansPerBend = 32;
const meansPerHalfWidth = 16;
/** [-] Change of weights or levels that counts as rest, and how long it is waited for. */
const ratio = 1e-6;
const mostRounds = 200;
const restOfPolynomial = 1e-4;
const mostRoundsOfPolynomial = 500;

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
 * - `'asls'`: a stiff line that gives what stands above it little weight. Tall peaks lift it by that little, and in noise it
 *   runs along the lower edge of its means.
 * - `'snip'`: clips what is narrower than twice `halfWidth`, with no model of the rest. It runs along the lower edge of
 *   the noise of its means.
 * - `'polynomial'`: one polynomial over the whole run, fitted to what it leaves below itself. For backgrounds that one
 *   polynomial can follow. The first fit runs below the record beside tall peaks, and what it cuts there stays cut, about 1 %
 *   of their height: avoid them.
 * - `'straight'`: straight lines through given points, the ends of what `avoid` leaves free, or the lowest points.
 *
 * All but `'knots'` and `'straight'` through given points or free ends take it that peaks point up.
 *
 * Lone spikes of up to three readings are bridged first, gaps have no say, and an
 * unevenly sampled record is interpolated, which the newer kinds say in `warnings` (`baseline-on-resampled`);
 * given points and free ends read the samples at their own times, spikes and all. The uncertainty, of the stiff lines
 * only, is the scatter of the block means through the solution: it does not know of curvature the line is too stiff for.
 *
 * @param trace - The record, N samples; read, never changed.
 * @param options - The kind and its settings; see {@link KnotsOptions}, {@link ArplsOptions}, {@link AslsOptions},
 *   {@link SnipOptions}, {@link PolynomialBaselineOptions} and {@link StraightOptions}.
 * @returns Knots from the first sample to the last with level, and standard uncertainty where it is known.
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
 *   Analyst 140 (2015) 250-257, for the weights of `'arpls'`; P. H. C. Eilers, H. F. M. Boelens (2005), for `'asls'`;
 *   C. G. Ryan et al., Nucl. Instrum. Methods B 34 (1988) 396-402, for `'snip'`; C. A. Lieber, A. Mahadevan-Jansen,
 *   Appl. Spectrosc. 57 (2003) 1363-1367, for `'polynomial'` (all from memory).
 *
 * @public
 */
export function estimateBaseline(trace: Trace, options: BaselineOptions = {}): Baseline {
  const kind = options?.kind ?? 'knots';
  checkOneOf(caller, 'kind', kind, Object.keys(kinds));
  const asked = resolveOptions(caller, kinds[kind], options as Settings<BaselineOptions>);
  const { avoid } = asked;
  checkReadings(caller, trace, fewestReadings);
  checkList('avoid', avoid, 'a stretch with from before to', (stretch) => stretch?.from <= stretch?.to);
  const taken = [...avoid, ...trace.gaps];
  const [start, end] = [trace.time[0]!, trace.time[trace.time.length - 1]!];
  const hundredth = (end - start) / 100;
  const twentieth = (end - start) / 20;
  const workspace = createWorkspace();
  /** The record in means about so long. */
  const look = (length: number, steps: readonly number[] = []): Seen => {
    const laid = layDecisionGrid(trace, workspace);
    const noise = scanNoise(buildPyramid(laid, workspace), workspace);
    const pyramid = buildPyramid(bridgeSpikes(laid, noise, workspace).grid, workspace);
    const blocks = takeBlockMeans(pyramid, taken, steps, length, workspace);
    if (blocks.w.filter((w) => w > 0).length < fewestFree) failCovered(avoid);
    return { pyramid, noise, blocks, resampled: laid.resampled };
  };
  switch (asked.kind) {
    case 'knots': {
      const { steps } = asked;
      checkList('steps', steps, 'a time in minutes', Number.isFinite);
      const width = positive('peakWidth', asked.peakWidth, hundredth);
      const bend = positive('sharpestBend', asked.sharpestBend, 4 * width);
      const { pyramid, noise } = look(width, steps);
      return fitBaseline(pyramid, noise, taken, steps, width, bend, workspace).baseline;
    }
    case 'arpls':
    case 'asls': {
      const bend = positive('sharpestBend', asked.sharpestBend, twentieth);
      const isAsls = asked.kind === 'asls';
      if (isAsls)
        checkNumber(caller, 'asymmetry', asked.asymmetry, 'a number above 0 and at most 0.5', (v) => v > 0 && v <= 0.5);
      const seen = look(bend / meansPerBend);
      const stiff = Math.max(bend / seen.blocks.distance, 1);
      const stiffness = stiff * stiff * stiff * stiff;
      return isAsls
        ? layLevel('asls', seen, (y, w) => asls(y, w, stiffness, asked.asymmetry, mostRounds))
        : layLevel('arpls', seen, (y, w) => arpls(y, w, stiffness, ratio, mostRounds));
    }
    case 'snip': {
      const halfWidth = positive('halfWidth', asked.halfWidth, twentieth);
      checkOneOf(caller, 'distances', asked.distances, ['growing', 'shrinking']);
      if (typeof asked.compress !== 'boolean') failOption(caller, 'compress', 'true or false', asked.compress);
      const seen = look(halfWidth / meansPerHalfWidth);
      const furthest = Math.max(1, Math.round(halfWidth / seen.blocks.distance));
      const shrinking = asked.distances === 'shrinking';
      return layLevel(
        'snip',
        seen,
        ofSignal(seen, (y, w) => snip(y, w, furthest, shrinking, asked.compress)),
      );
    }
    case 'polynomial': {
      checkWhole(caller, 'degree', asked.degree, 0, 12);
      const seen = look(positive('peakWidth', asked.peakWidth, hundredth));
      return layLevel('polynomial', seen, (y, w) =>
        polynomialBaseline(y, w, asked.degree, restOfPolynomial, mostRoundsOfPolynomial),
      );
    }
    case 'straight': {
      const { through } = asked;
      const window = positive('window', asked.window, hundredth);
      if (through === 'lowest points') {
        const seen = look(window / 2);
        return straight(cornersBelow(seen.blocks, start, end), seen.resampled);
      }
      if (through !== 'free ends') return straight(cornersAt(caller, trace, through, window));
      const corners = cornersAtFreeEnds(trace, taken, window);
      if (corners.time.length < 2) failCovered(avoid);
      return straight(corners);
    }
  }
}

/** The estimator, shown the signal itself and not what is left of it beside the line of the blocks: logarithms need it. */
function ofSignal({ blocks: { line } }: Seen, estimate: LevelEstimator): LevelEstimator {
  const raise = (y: Float64Array, sign: 1 | -1) => y.map((v, i) => v + sign * (line.at + line.slope * i));
  return (y, w) => {
    const fit = estimate(raise(y, 1), w);
    return { ...fit, level: raise(fit.level, -1) };
  };
}

function straight(corners: Corners, resampled = false): Baseline {
  return { id: 'run', kind: 'straight', ...corners, ...(resampled ? { warnings: [onResampled] } : {}) };
}

function failCovered(avoid: readonly Interval[]): never {
  failOption(caller, 'avoid', `shorter, so that ${fewestFree} means of short blocks stay free`, avoid);
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
