import type { Baseline } from '../baseline/index.js';
import type { CurveKind } from './curve-kinds.js';

/**
 * What ends a peak on one side.
 *
 * @public
 */
export type LimitKind = 'baseline' | 'drop line' | 'valley' | 'skim' | 'fit' | 'by hand' | 'by rule' | 'cut off';

/**
 * What divides peaks that touch: a vertical at the valley on one baseline; a straight baseline of its own under each, from
 * valley to valley; or a line from the valley under the smaller peak, straight or exponential, which leaves what lies under it to the larger.
 *
 * @public
 */
export type Divider = 'drop line' | 'valley to valley' | 'tangent skim' | 'exponential skim';

/** All of them. */
export const dividers: readonly Divider[] = ['drop line', 'valley to valley', 'tangent skim', 'exponential skim'];

/**
 * Why something was decided: enough to print, to check and to argue with.
 *
 * @public
 */
export interface Decision {
  /** What was decided, for example `'start'`, `'end'`, `'divider'`, `'peak'`. */
  readonly about: string;
  /** Name of the rule that decided. */
  readonly rule: string;
  /** [min] Where. */
  readonly at: number;
  /** [unit of the rule] The value the rule looked at. */
  readonly value?: number;
  /** [unit of the rule] The limit it was held against. */
  readonly limit?: number;
  /** The decision in one sentence. */
  readonly text: string;
}

/**
 * One peak of a plan: where it lies and what it stands on. No areas.
 *
 * @public
 */
export interface PlannedPeak {
  /** Stable name. */
  readonly id: string;
  /** [min] Apex as the decision saw it. */
  readonly apex: number;
  /** [min] Start; between samples as a rule. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
  /** What begins it. */
  readonly startKind: LimitKind;
  /** What ends it. */
  readonly endKind: LimitKind;
  /** Above or below its baseline. */
  readonly direction: 'up' | 'down';
  /** `id` of the baseline it stands on. */
  readonly baseline: string;
  /**
   * `id` of the peak it rides on: the limits of that one go on under it, and its area between them above its own baseline is
   * taken off that of the other.
   *
   * @defaultValue none: it rides on no other
   */
  readonly rides?: string;
  /**
   * Whether a fit revealed it, without a maximum of its own: position and height are those of its curve.
   *
   * @defaultValue false
   */
  readonly revealed?: true;
  /** Why. */
  readonly decisions: readonly Decision[];
}

/**
 * A curve that stands for a peak among its neighbours.
 *
 * @public
 */
export interface FittedCurve {
  /** `id` of the peak. */
  readonly peak: string;
  /** Its shape. */
  readonly kind: CurveKind;
  /** [min, signal unit] Parameters of the shape in its own order; the first, height or area, is negative for a peak that points down. */
  readonly parameters: readonly number[];
  /**
   * [signal unit s] One standard uncertainty of the area of the curve, from the noise and from what the data leave open of shapes and baseline.
   *
   * @defaultValue none: not known
   */
  readonly areaUncertainty?: number;
  /**
   * The parts of `areaUncertainty`.
   *
   * @defaultValue none: not known
   */
  readonly areaUncertaintyParts?: AreaUncertaintyParts;
}

/**
 * What the uncertainty of an area is made of, each part one standard uncertainty; their squares add up.
 *
 * @public
 */
export interface AreaUncertaintyParts {
  /** [signal unit s] From the noise of the samples. */
  readonly noise: number;
  /** [signal unit s] From the baseline. */
  readonly baseline: number;
  /**
   * [signal unit s] From dividing it among neighbours by a fit: what the fit leaves open beyond the other two.
   *
   * @defaultValue none: not divided by a fit
   */
  readonly division?: number;
  /**
   * [signal unit s] From what a shape may be beyond the curves that were fitted: a slow tail, flatter flanks.
   *
   * @defaultValue none: no curve was fitted
   */
  readonly shape?: number;
}

/**
 * A peak, or a part of one, that a rule hides: it belongs to no region, and its area is reported all the same.
 *
 * @public
 */
export interface HiddenPeak extends PlannedPeak {
  /** [-] Which rule, counted from 1. */
  readonly rule: number;
  /** The reason the rule gives. */
  readonly reason: string;
}

/**
 * A stretch from baseline to baseline that holds one peak or several that touch.
 *
 * @public
 */
export interface PlannedRegion {
  /** [min] Start. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
  /** Its peaks in order of time; limits are ordered and never overlap, but for a peak that rides: it lies within the limits of the other. */
  readonly peaks: readonly PlannedPeak[];
  /**
   * Curves by whose share of their sum the area is divided between the peaks, one for each.
   *
   * @defaultValue none: divided at the limits
   */
  readonly curves?: readonly FittedCurve[];
  /**
   * [signal unit] Beside this noise the curves are weighed against the signal: where they stand high above it
   * the area is that of the signal, where they are lost in it theirs.
   *
   * @defaultValue none: the signal alone is integrated
   */
  readonly curveNoise?: number;
}

/**
 * Everything that was decided and nothing that was measured; plain JSON.
 *
 * @public
 */
export interface IntegrationPlan {
  /** The baselines the peaks stand on. */
  readonly baselines: readonly Baseline[];
  /** The regions in order of time. */
  readonly regions: readonly PlannedRegion[];
  /** Stretches that were set apart as disturbances, with the limits they have as peaks: moved into a region, one is a peak. */
  readonly apart?: readonly PlannedPeak[];
  /** What rules hide. */
  readonly hidden?: readonly HiddenPeak[];
  /** Stretches over which the signal is taken as straight, such as spikes. */
  readonly bridged?: readonly BridgedStretch[];
}

/**
 * A stretch over which the signal is replaced by a straight line.
 *
 * @public
 */
export interface BridgedStretch {
  /** [min] Last good sample before. */
  readonly from: number;
  /** [min] First good sample after. */
  readonly to: number;
  /** Why. */
  readonly reason: string;
}
