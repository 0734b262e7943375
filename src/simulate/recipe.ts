import type { BaselineRecipe } from './baseline-recipe.js';
import type { BumpRecipe, DisturbanceRecipe } from './disturbance-recipe.js';
import type { NoiseRecipe } from './noise-recipe.js';
import type { PeakRecipe } from './peak-recipe.js';
import type { SamplingRecipe } from './sampling-recipe.js';

/**
 * The highest reading of a detector.
 *
 * @public
 */
export interface SaturationRecipe {
  /** [signal unit] The highest reading. */
  readonly level: number;
  /**
   * Where the noise comes in: `'before'` the ceiling, so that the top is flat, or `'after'` it, so that the top is
   * as noisy as the rest.
   *
   * @defaultValue 'before'
   */
  readonly noise?: 'before' | 'after';
}

/**
 * What {@link simulateTrace} makes a record from; plain JSON.
 *
 * @public
 */
export interface TraceRecipe {
  /**
   * [min] Time of the first reading; above 0 when a run is recorded late.
   *
   * @defaultValue 0
   */
  readonly start?: number;
  /** [min] Length of the record. */
  readonly duration: number;
  /** [s] Time between two samples. */
  readonly interval: number;
  /**
   * What is irregular about the readings.
   *
   * @defaultValue nothing
   */
  readonly sampling?: SamplingRecipe;
  /**
   * Unit of the signal.
   *
   * @defaultValue 'mAU'
   */
  readonly signalUnit?: string;
  /**
   * [-] Seed of noise and jitter: a whole number from 0 to 4294967295. Required when there is either.
   *
   * @defaultValue none
   */
  readonly seed?: number;
  /**
   * The peaks; they add.
   *
   * @defaultValue []
   */
  readonly peaks?: readonly PeakRecipe[];
  /**
   * Bumps that are no peaks.
   *
   * @defaultValue []
   */
  readonly bumps?: readonly BumpRecipe[];
  /**
   * What else is in the record and no peak.
   *
   * @defaultValue []
   */
  readonly disturbances?: readonly DisturbanceRecipe[];
  /**
   * The level below the peaks.
   *
   * @defaultValue a level of 0
   */
  readonly baseline?: BaselineRecipe;
  /**
   * The noise.
   *
   * @defaultValue none
   */
  readonly noise?: NoiseRecipe;
  /**
   * The ceiling of the detector.
   *
   * @defaultValue none
   */
  readonly saturation?: SaturationRecipe;
  /**
   * [signal unit] Readings are whole multiples of this step.
   *
   * @defaultValue none: not rounded
   */
  readonly step?: number;
}
