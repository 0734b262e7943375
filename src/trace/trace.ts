import type { Warning } from '../core/index.js';

/**
 * How a unit came to be known: written in the file or stated by the caller,
 * read out of a column header, or taken for granted.
 *
 * @public
 */
export type UnitProvenance = 'declared' | 'inferred' | 'assumed';

/**
 * A unit and how it came to be known.
 *
 * @public
 */
export interface KnownUnit {
  /** The unit as it was in the source, for example `'s'` or `'mAU'`. */
  readonly unit: string;
  /** How it came to be known. */
  readonly provenance: UnitProvenance;
}

/**
 * What is known about a record besides its numbers; each field only if known.
 *
 * @public
 */
export interface TraceMeta {
  /** Unit of time in the source; inside, time is always in minutes. */
  readonly timeUnit: KnownUnit;
  /** Unit of the signal in the source. */
  readonly signalUnit: KnownUnit;
  /** What minute zero is. */
  readonly timeOrigin: 'injection' | 'start of record';
  /** [min] Moment of injection on the axis of the source, when it was given. */
  readonly injectedAt?: number;
  /** Name for people, for example the file or the sample. */
  readonly name?: string;
  /** File the numbers came from. */
  readonly file?: string;
  /** Column or channel they came from. */
  readonly channel?: string;
  /** [nm] Detection wavelength. */
  readonly wavelength?: number;
  /** [cm] Path length of the cell. */
  readonly pathLength?: number;
  /** [mL/min] Flow. */
  readonly flow?: number;
  /** [s] Response time of the detector: the time constant of its filter. A rise from 10 to 90 % takes 2.2 times as long. */
  readonly responseTime?: number;
  /** [-] Which injection of the record, counted from 1, when it held several. */
  readonly injectionNumber?: number;
}

/**
 * A stretch in which nothing was recorded: samples were missing there, or one
 * interval is more than five times the usual one on both sides of it.
 *
 * @public
 */
export interface Gap {
  /** [min] Last sample before it. */
  readonly from: number;
  /** [min] First sample after it. */
  readonly to: number;
}

/**
 * A checked record: N samples of one detector signal against time. Made by
 * {@link createTrace}; never changed afterwards.
 *
 * @public
 */
export interface Trace {
  /** [min] N times, strictly increasing, from injection (see `meta.timeOrigin`). */
  readonly time: Float64Array;
  /** [signal unit] N readings. */
  readonly signal: Float64Array;
  /** Unit of the signal: `'AU'`, `'mAU'`, `'µAU'`, `'V'`, `'mV'`, `'µV'`, or another the caller stated. */
  readonly signalUnit: string;
  /** Stretches without samples, in order. */
  readonly gaps: readonly Gap[];
  /** What is known besides. */
  readonly meta: TraceMeta;
  /** What to doubt about the record. */
  readonly warnings: readonly Warning[];
}
