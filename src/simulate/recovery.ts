import type { Analysis } from '../analysis/index.js';
import type { Warning } from '../core/index.js';

/**
 * Options of {@link testRecovery}.
 *
 * @public
 */
export interface RecoveryOptions {
  /**
   * [-] How many times the peaks are added and everything recomputed; at least 2.
   *
   * @defaultValue 20
   */
  readonly repeats?: number;
  /**
   * [min] Places for the first peak, taken in turn; the others keep their distances from it. Empty: its own
   * retention time.
   *
   * @defaultValue []
   */
  readonly places?: readonly number[];
  /**
   * [min] All peaks of a repeat are moved by one random time of at most this, so that the noise below them and the
   * phase of the sampling differ. Automatic: ten half widths of the broadest peak, keeping clear of what is in the
   * record; one sample where a place is taken already.
   *
   * @defaultValue 'automatic'
   */
  readonly moveBy?: number | 'automatic';
  /**
   * [-] Seed of the moves: a whole number from 0 to 4294967295.
   *
   * @defaultValue 1
   */
  readonly seed?: number;
  /**
   * Whether the limits are searched, which takes some hundred further analyses for each peak.
   *
   * @defaultValue true
   */
  readonly limits?: boolean;
  /**
   * [-] Share of the repeats in which a peak must be found, for both limits.
   *
   * @defaultValue 0.95
   */
  readonly foundShare?: number;
  /**
   * [-] Largest root mean square of the relative error of the area, for the limit of quantification.
   *
   * @defaultValue 0.1
   */
  readonly errorShare?: number;
}

/**
 * One peak in one repeat.
 *
 * @public
 */
export interface RecoveredPeak {
  /** [min] Where its apex was put. */
  readonly retentionTime: number;
  /** [signal unit s] Area found, less that of a peak that was there without it; absent when nothing was found. */
  readonly area?: number;
  /** [-] `area` over the area added; absent when nothing was found. */
  readonly recovery?: number;
}

/**
 * A limit found by making the peak smaller and larger in this very trace.
 *
 * @public
 */
export interface RecoveryLimit {
  /** [signal unit s] The smallest area for which the definition holds, to 5 %. */
  readonly area: number;
  /** [signal unit] Height of that peak. */
  readonly height: number;
  /** What it means. */
  readonly definition: string;
}

/**
 * What became of one added peak.
 *
 * @public
 */
export interface PeakRecovery {
  /** Name of the component, when the recipe gave one. */
  readonly name?: string;
  /** [min] Retention time of the recipe. */
  readonly retentionTime: number;
  /** [signal unit s] Area added. */
  readonly area: number;
  /** [-] Share of the repeats in which it was found. */
  readonly foundShare: number;
  /** [-] Mean of area found over area added; absent when it was never found. */
  readonly recovery?: number;
  /** [-] Recovery less 1. */
  readonly bias?: number;
  /** [-] Standard uncertainty of the bias, repeatability over √n; absent below 2 found. */
  readonly biasUncertainty?: number;
  /** [-] Standard deviation of the recoveries of the repeats; absent below 2 found. */
  readonly repeatability?: number;
  /** The smallest peak that is found in `foundShare` of the repeats. */
  readonly detectionLimit?: RecoveryLimit;
  /** The smallest peak that is also measured with a root mean square error of at most `errorShare`. */
  readonly quantificationLimit?: RecoveryLimit;
  /** Every repeat, in order. */
  readonly repeats: readonly RecoveredPeak[];
  /** What to doubt, and why a limit is absent. */
  readonly warnings: readonly Warning[];
}

/**
 * What {@link testRecovery} found.
 *
 * @public
 */
export interface Recovery {
  /** The added peaks, in the order given. */
  readonly peaks: readonly PeakRecovery[];
  /** The record without them, analysed the same way. */
  readonly before: Analysis;
  /** What to doubt about all of it. */
  readonly warnings: readonly Warning[];
}
