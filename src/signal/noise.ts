/**
 * Noise of a trace along the run.
 *
 * @public
 */
export interface Noise {
  /** [signal unit] Short-term standard deviation, the median along the run. */
  readonly standardDeviation: number;
  /** Short-term standard deviation along the run, straight between its points. */
  readonly along: {
    /** [min] Times. */
    readonly time: readonly number[];
    /** [signal unit] Standard deviations there. */
    readonly value: readonly number[];
  };
  /** [-] Correlation of neighbouring samples, 0 for white noise. */
  readonly correlation: number;
  /** [signal unit] Smallest step between different readings when the signal is visibly quantised. */
  readonly quantisation?: number;
}
