import type { PeakPlates, PeakResolution, PeakWidths } from '../measures/index.js';
import type { TrueDisturbance } from './disturbance-signal.js';
import type { PeakShapeName } from './peak-recipe.js';

/**
 * A peak as it was put into a simulated record. What is measured on it is that of the peak alone, without noise,
 * baseline and neighbours.
 *
 * @public
 */
export interface TruePeak {
  /** Name of the component, when the recipe gave one. */
  readonly name?: string;
  /** Its shape. */
  readonly shape: PeakShapeName;
  /** [min] Position of its own apex, apart from every neighbour. */
  readonly retentionTime: number;
  /** [signal unit] Height of its own apex. */
  readonly height: number;
  /** [signal unit s] Whole area. */
  readonly area: number;
  /** [signal unit s] The part of the area between the first and the last sample, less what a ceiling cut off. */
  readonly areaInRecord: number;
  /** [min] The `sigma` of its recipe. */
  readonly sigma: number;
  /** [min] The `tau` of its recipe; 0 when it has none. */
  readonly tau: number;
  /** [min] Where it has risen to 5 % of its height. */
  readonly start: number;
  /** [min] Where it has fallen to 5 % of its height. */
  readonly end: number;
  /** Full widths. */
  readonly widths: Required<PeakWidths>;
  /** Plate numbers. */
  readonly plates: Omit<PeakPlates, 'moments'>;
  /** [-] W0.05 / (2 f), f the front half at 5 %. */
  readonly tailingFactor: number;
  /** [-] B/A at 10 %. */
  readonly asymmetry: number;
  /** Resolution to the true peak before; absent for the first. */
  readonly resolution?: Required<Omit<PeakResolution, 'against'>>;
  /**
   * The noise-free sum of peaks, bumps and void swings has an extremum of its own within half a Gaussian sigma
   * (half width / 2.355) of the apex; for a saturated peak, it is the highest on its plateau.
   */
  readonly isVisible: boolean;
  /** All else stays below 1 % of its height between start and end, and it is neither cut nor saturated. */
  readonly isIsolated: boolean;
  /** Its start or end lies outside the record. */
  readonly isCut: boolean;
  /** The ceiling cut its apex off. */
  readonly isSaturated: boolean;
  /**
   * [-] 2H/h; h is the peak-to-peak of the noise, wander and ripple in the record over 20 half widths around the
   * peak, less a straight line, and at least the step of the readings. Absent when there is neither.
   */
  readonly signalToNoise?: number;
}

/**
 * What is true of a simulated record of N samples.
 *
 * @public
 */
export interface TraceTruth {
  /** The peaks in order of time. */
  readonly peaks: readonly TruePeak[];
  /** What is in the record and no peak, in order of time. */
  readonly disturbances: readonly TrueDisturbance[];
  /** [signal unit] N levels below peaks and disturbances, without noise. */
  readonly baseline: Float64Array;
  /** [signal unit] N values of the sum of baseline, peaks and disturbances, without noise and ceiling. */
  readonly clean: Float64Array;
  /** [signal unit] N values of the noise, wander and ripple that was added. */
  readonly noise: Float64Array;
}
