/**
 * Shapes a simulated peak can have.
 *
 * - `'gaussian'`.
 * - `'emg'`: exponentially modified, with `tau`.
 * - `'split gaussian'`: one width before the apex, another, `sigmaAfter`, after it.
 * - `'log-normal'`: the form of Fraser and Suzuki, with `asymmetry`.
 * - `'overloaded'`: Haarhoff and van der Linde, with `overload`.
 * - `'second site'`: a share `tailShare` of the substance is held back by few slow sites and
 *   leaves with the time constant `tailTau`; the rest is a Gaussian, or an `'emg'` with `tau`.
 * - `'polynomial'`: a Gaussian whose width is a polynomial of the distance from the apex, with `widening`.
 *
 * @public
 */
export type PeakShapeName =
  'gaussian' | 'emg' | 'split gaussian' | 'log-normal' | 'overloaded' | 'second site' | 'polynomial';

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
   * [min] Standard deviation of the Gaussian part: of `'split gaussian'` before the apex, of `'log-normal'` the
   * width parameter over √(8 ln 2), of `'overloaded'` without overload, of `'polynomial'` at the apex.
   */
  readonly sigma: number;
  /**
   * [min] Time constant of the exponential part: above 0 tails, below 0 fronts. Required for `'emg'`.
   *
   * @defaultValue none; of `'second site'` 0
   */
  readonly tau?: number;
  /**
   * [min] Standard deviation after the apex. Required for `'split gaussian'`.
   *
   * @defaultValue none
   */
  readonly sigmaAfter?: number;
  /**
   * [-] Asymmetry a: the half width at half height after the apex is e^a times the one before. Required for
   * `'log-normal'`.
   *
   * @defaultValue none
   */
  readonly asymmetry?: number;
  /**
   * [min] Parameter a3 of `'overloaded'`, which needs it: above 0 the front is steep and the back slanted, below 0
   * the other way round.
   *
   * @defaultValue none
   */
  readonly overload?: number;
  /**
   * [-] Share of the area that is held back by slow sites, from 0 to 1. Required for `'second site'`.
   *
   * @defaultValue none
   */
  readonly tailShare?: number;
  /**
   * [min] Time constant of the slow sites. Required for `'second site'`.
   *
   * @defaultValue none
   */
  readonly tailTau?: number;
  /**
   * [min^(1-k), the first without unit] Coefficients s1, s2 ... of the distance, its square ... in the width
   * sigma + s1 x + s2 x² + ... of `'polynomial'`, which needs them.
   *
   * @defaultValue none
   */
  readonly widening?: readonly number[];
}
