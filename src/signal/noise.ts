import type { Warning } from '../core/index.js';

/**
 * Peak-to-peak noise: the range of the readings of a window about the straight
 * line that fits them best.
 *
 * @public
 */
export interface PeakToPeak {
  /** [signal unit] Median over the quiet windows. */
  readonly value: number;
  /** [signal unit] Largest of them. */
  readonly largest: number;
  /** [min] Start of the window with the largest. */
  readonly from: number;
  /** [min] End of it. */
  readonly to: number;
  /** [min] Length of the windows. */
  readonly window: number;
  /** [-] Number of quiet windows. */
  readonly windows: number;
}

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
  /** [min] Longest cycle that was looked at: from there on the noise is independent, or wander, and extrapolated or left out. */
  readonly timeScale?: number;
  /** Peak-to-peak noise, when it was asked for and there were quiet windows. */
  readonly peakToPeak?: PeakToPeak;
  /** What to doubt about the figures, and why one is absent. */
  readonly warnings?: readonly Warning[];
}
