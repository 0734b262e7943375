/**
 * Options of {@link findPeaks}.
 *
 * @public
 */
export interface FindPeaksOptions {
  /**
   * [min] Standard deviation of the narrower peaks; it sets the distance of the baseline's knots.
   *
   * @defaultValue 'automatic'
   */
  readonly peakWidth?: number | 'automatic';
  /**
   * [min] No bend of the baseline is sharper than this, unless its free stretches demand it.
   *
   * @defaultValue 'automatic'
   */
  readonly sharpestBend?: number | 'automatic';
  /**
   * [-] Height over the noise of its own coarseness that a maximum must stand above its valleys.
   *
   * @defaultValue 8
   */
  readonly leastProminence?: number;
  /**
   * [-] Height over the background, as 2H/h with h from the noise at every coarseness, that a peak must have.
   *
   * @defaultValue 2
   */
  readonly leastSignalToNoise?: number;
  /**
   * [a run] How many bumps noise alone may give in a run as long that are at least as significant as one that is taken,
   * where signal to noise is less than one and a half times the least.
   *
   * @defaultValue 0.001
   */
  readonly falseAlarms?: number;
  /**
   * [-] (Retention time / standard deviation)² below which a bump is background and no peak.
   *
   * @defaultValue 60
   */
  readonly fewestPlates?: number;
}

/** What is done when nothing is asked. */
export const defaults: Required<FindPeaksOptions> = {
  peakWidth: 'automatic',
  sharpestBend: 'automatic',
  leastProminence: 8,
  leastSignalToNoise: 2,
  falseAlarms: 0.001,
  fewestPlates: 60,
};
