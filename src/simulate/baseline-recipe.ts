/**
 * A change of the level that stays, as a gradient makes it: its rise, a step within it, its return.
 *
 * @public
 */
export interface RampRecipe {
  /** [min] Where it begins. */
  readonly from: number;
  /** [min] Where it ends; later than `from`. */
  readonly to: number;
  /** [signal unit] What the level has risen by at the end. */
  readonly rise: number;
  /**
   * [-] How far the middle lies above the straight line, in quarters of the rise.
   *
   * @defaultValue 0
   */
  readonly bend?: number;
  /**
   * [min] Time constant by which a mixer rounds the corners.
   *
   * @defaultValue 0
   */
  readonly rounding?: number;
}

/**
 * A broad hump of unresolved matter below the peaks; a Gaussian.
 *
 * @public
 */
export interface HumpRecipe {
  /** [min] Position of its top. */
  readonly time: number;
  /** [signal unit] Height. */
  readonly height: number;
  /** [min] Standard deviation. */
  readonly sigma: number;
}

/**
 * The level below the peaks: a straight line, ramps and humps, added.
 *
 * @public
 */
export interface BaselineRecipe {
  /**
   * [signal unit] Level at time 0.
   *
   * @defaultValue 0
   */
  readonly offset?: number;
  /**
   * [signal unit/h] Slope.
   *
   * @defaultValue 0
   */
  readonly drift?: number;
  /**
   * Lasting changes of the level.
   *
   * @defaultValue []
   */
  readonly ramps?: readonly RampRecipe[];
  /**
   * Broad humps.
   *
   * @defaultValue []
   */
  readonly humps?: readonly HumpRecipe[];
}
