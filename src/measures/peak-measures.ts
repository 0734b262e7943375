import type { Warning } from '../core/index.js';
import type { Moments } from './moments.js';

/**
 * Full widths of a peak; each absent when it cannot be taken.
 *
 * @public
 */
export interface PeakWidths {
  /** [min] At half height. */
  readonly halfHeight?: number;
  /** [min] At 10 % of the height. */
  readonly tenPercent?: number;
  /** [min] At 5 % of the height. */
  readonly fivePercent?: number;
  /** [min] Between the intercepts of the two inflection tangents with the baseline. */
  readonly tangent?: number;
}

/**
 * Plate numbers by definition.
 *
 * @public
 */
export interface PeakPlates {
  /** [-] 8 ln 2 (tR / W0.5)². */
  readonly halfHeight?: number;
  /** [-] 16 (tR / Wb)² with the tangent width. */
  readonly tangent?: number;
  /** [-] 41.7 (tR / W0.1)² / (B/A + 1.25). */
  readonly foleyDorsey?: number;
  /** [-] M1² / M2 of the statistical moments. */
  readonly moments?: number;
}

/**
 * Statistical moments between the limits of the peak; M0 is negative for a peak
 * that points down.
 *
 * @public
 */
export type PeakMoments = Moments;

/**
 * Resolution to the peak before, by definition.
 *
 * @public
 */
export interface PeakResolution {
  /** `id` of the peak it is taken against. */
  readonly against: string;
  /** [-] sqrt(2 ln 2) (t2 - t1) / (W0.5,1 + W0.5,2). */
  readonly halfHeight?: number;
  /** [-] 2 (t2 - t1) / (Wb1 + Wb2). */
  readonly tangent?: number;
}

/**
 * Signal-to-noise with what it means.
 *
 * @public
 */
export interface SignalToNoise {
  /** [-] The ratio. */
  readonly value: number;
  /** Formula. */
  readonly definition: '2H/h';
  /** [signal unit] h: peak-to-peak noise in the window, drift removed. */
  readonly noise: number;
  /** [min] Start of the window. */
  readonly from: number;
  /** [min] End of the window. */
  readonly to: number;
  /** [-] Samples in the window that were used. */
  readonly points: number;
  /** Where the noise was taken. */
  readonly source: 'this run' | 'blank' | 'noise model';
}

/**
 * What is measured on one peak beyond height and area.
 *
 * @public
 */
export interface PeakMeasures {
  /** Full widths. */
  readonly widths: PeakWidths;
  /** Plate numbers. */
  readonly plates: PeakPlates;
  /** [-] W0.05 / (2 f), f the front half at 5 %. */
  readonly tailingFactor?: number;
  /** [-] B/A at 10 %. */
  readonly asymmetry?: number;
  /** Moments between the limits; absent when the net area or the variance is not positive. */
  readonly moments?: PeakMoments;
  /** What could not be taken and why. */
  readonly warnings: readonly Warning[];
}
