import type { Warning } from '../core/index.js';
import type { Decision, LimitKind } from './plan.js';

/**
 * Area that lies between the limits of one peak and belongs to another that rides on it.
 *
 * @public
 */
export interface AreaTransfer {
  /** `id` of the peak that gets it. */
  readonly to: string;
  /** [signal unit s] How much: all between the limits of that peak above its own baseline, with what rides on it in turn. */
  readonly area: number;
}

/**
 * One peak measured under a plan: position, height and area.
 *
 * @public
 */
export interface IntegratedPeak {
  /** Stable name. */
  readonly id: string;
  /** [min] Time of the maximum (of the minimum for a peak that points down). */
  readonly retentionTime: number;
  /** [signal unit] Height of the apex above the baseline; negative for a peak that points down. */
  readonly height: number;
  /** [signal unit s] Area between signal and baseline; negative where the signal lies below. */
  readonly area: number;
  /**
   * What was taken off the area between its limits, for the peaks that ride on it.
   *
   * @defaultValue none: nothing rides on it
   */
  readonly transfers?: readonly AreaTransfer[];
  /** [signal unit s] Area between its limits, when `area` is its share of fitted curves instead. */
  readonly dividedArea?: number;
  /** [signal unit s] Area of the curve that was fitted to it, when it was divided by a fit. */
  readonly fittedArea?: number;
  /** [signal unit s] One standard uncertainty of `fittedArea`, when it is known. */
  readonly fittedAreaUncertainty?: number;
  /** [min] Start. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
  /** What begins it. */
  readonly startKind: LimitKind;
  /** What ends it. */
  readonly endKind: LimitKind;
  /** [signal unit] Baseline at the start. */
  readonly baselineStart: number;
  /** [signal unit] Baseline at the end. */
  readonly baselineEnd: number;
  /** `id` of the baseline it stands on. */
  readonly baseline: string;
  /** Above or below its baseline. */
  readonly direction: 'up' | 'down';
  /** Why this start, this end, this divider. */
  readonly decisions: readonly Decision[];
  /** What to doubt. */
  readonly warnings: readonly Warning[];
}

/**
 * A region with its total, so that the parts can be checked against the whole.
 *
 * @public
 */
export interface IntegratedRegion {
  /** [min] Start. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
  /** [signal unit s] Area of the whole stretch; the sum of its peaks. */
  readonly area: number;
  /** [signal unit s] Area between signal and baseline over the stretch, when peaks have theirs from fitted curves. */
  readonly dividedArea?: number;
  /** `id`s of its peaks in order of time. */
  readonly peaks: readonly string[];
}
