/**
 * Shapes a simulated peak can have; each has a function of its own, which says what its numbers mean.
 *
 * - `'gaussian'`.
 * - `'emg'`: exponentially modified, with `tau`; {@link emg}.
 * - `'split-gaussian'`: one width before the apex, another after it, `sigmaAfter`; {@link splitGaussian}.
 * - `'log-normal'`: with `skew`; {@link logNormal}.
 * - `'haarhoff-van-der-linde'`: an overloaded column, with `overload`; {@link haarhoffVanDerLinde}.
 * - `'emg-with-slow-tail'`: a small part, `slowFraction`, is held back with the time constant `slowTau`, the rest with
 *   `tau`; {@link emgWithSlowTail}.
 * - `'polynomial-gaussian'`: the width changes with the distance, by `slope` and `curvature`;
 *   {@link polynomialGaussian}.
 *
 * @public
 */
export type PeakShapeName =
  | 'gaussian'
  | 'emg'
  | 'split-gaussian'
  | 'log-normal'
  | 'haarhoff-van-der-linde'
  | 'emg-with-slow-tail'
  | 'polynomial-gaussian';

/**
 * One peak of a recipe. Either its height or its area is given, not both.
 *
 * @public
 */
export interface PeakRecipe {
  /** Its shape, which says what further numbers it has. */
  readonly shape: PeakShapeName;
  /**
   * Name of the component.
   *
   * @defaultValue none
   */
  readonly name?: string;
  /** [min] Position of the apex. */
  readonly retentionTime: number;
  /**
   * [signal unit] Height of the apex; negative for a peak that points down.
   *
   * @defaultValue what the area gives
   */
  readonly height?: number;
  /**
   * [signal unit s] Whole area, also where it lies outside the record.
   *
   * @defaultValue what the height gives
   */
  readonly area?: number;
  /**
   * [min] Standard deviation of the Gaussian part: of `'split-gaussian'` before the apex, of `'log-normal'` that of the
   * Gaussian it becomes without skew, of `'haarhoff-van-der-linde'` without overload, of `'polynomial-gaussian'` at
   * the apex.
   */
  readonly sigma: number;
  /**
   * [min] Time constant of the exponential part: above 0 tails, below 0 fronts. Required for `'emg'`.
   *
   * @defaultValue none; of `'emg-with-slow-tail'` 0
   */
  readonly tau?: number;
  /**
   * [min] Standard deviation after the apex. Required for `'split-gaussian'`.
   *
   * @defaultValue none
   */
  readonly sigmaAfter?: number;
  /**
   * [-] Natural logarithm of the half width after the apex over the one before, at half height. Required for
   * `'log-normal'`.
   *
   * @defaultValue none
   */
  readonly skew?: number;
  /**
   * [-] Above 0 the front is steep and the back slanted, below 0 the other way round. Required for
   * `'haarhoff-van-der-linde'`.
   *
   * @defaultValue none
   */
  readonly overload?: number;
  /**
   * [-] Part of the area that is held back, from 0 to 1. Required for `'emg-with-slow-tail'`.
   *
   * @defaultValue none
   */
  readonly slowFraction?: number;
  /**
   * [min] Time constant with which it is held back. Required for `'emg-with-slow-tail'`.
   *
   * @defaultValue none
   */
  readonly slowTau?: number;
  /**
   * [-] Change of the width with the distance from the apex; above 0 tails. Required for `'polynomial-gaussian'`.
   *
   * @defaultValue none
   */
  readonly slope?: number;
  /**
   * [1/min] Coefficient of the square of the distance in the width of `'polynomial-gaussian'`.
   *
   * @defaultValue none; of `'polynomial-gaussian'` 0
   */
  readonly curvature?: number;
}
