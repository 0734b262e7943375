/**
 * Noise of several kinds, added. Each kind has its own random stream, so that
 * changing one leaves the others as they were.
 *
 * @public
 */
export interface NoiseRecipe {
  /**
   * [signal unit] Standard deviation of the normal noise that differs from sample to sample.
   *
   * @defaultValue 0
   */
  readonly white?: number;
  /**
   * Normal noise behind a first-order filter, as the response time of a detector makes it.
   *
   * @defaultValue none
   */
  readonly correlated?: {
    /** [signal unit] Standard deviation. */
    readonly standardDeviation: number;
    /** [s] Time in which the correlation falls to 1/e. */
    readonly timeConstant: number;
  };
  /**
   * Wander with a spectrum of 1/f: every octave of frequencies carries the same power.
   *
   * @defaultValue none
   */
  readonly wander?: {
    /** [signal unit] Standard deviation over a very long record. */
    readonly standardDeviation: number;
    /** [s] Shortest time constant: faster than it the spectrum falls as 1/f². */
    readonly shortest: number;
    /** [s] Longest time constant: slower than it the spectrum is flat. */
    readonly longest: number;
  };
  /**
   * Ripple of a pump; its phases follow from the seed.
   *
   * @defaultValue none
   */
  readonly ripple?: {
    /** [signal unit] Amplitude of the fundamental wave. */
    readonly amplitude: number;
    /** [s] Period of the fundamental wave. */
    readonly period: number;
    /**
     * [-] Amplitudes of the waves of twice, three times ... the frequency, as shares of the fundamental one.
     *
     * @defaultValue []
     */
    readonly harmonics?: readonly number[];
  };
}
