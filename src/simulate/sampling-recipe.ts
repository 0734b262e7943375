/**
 * What is irregular about the readings.
 *
 * @public
 */
export interface SamplingRecipe {
  /**
   * [-] Most that the clock of a reading is off, as a share of the interval, below 0.5; all deviations up to it are
   * equally likely. The times of the record are the true ones.
   *
   * @defaultValue 0
   */
  readonly jitter?: number;
  /**
   * Stretches without readings.
   *
   * @defaultValue []
   */
  readonly gaps?: readonly {
    /** [min] After this time. */
    readonly from: number;
    /** [min] Before this time. */
    readonly to: number;
  }[];
  /**
   * Stretches in which readings are further apart.
   *
   * @defaultValue []
   */
  readonly slower?: readonly {
    /** [min] From this time on. */
    readonly from: number;
    /** [min] Before this time. */
    readonly to: number;
    /** [-] How many times further apart; a whole number. */
    readonly factor: number;
  }[];
}
