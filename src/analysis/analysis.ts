import type { Baseline } from '../baseline/index.js';
import type { Warning } from '../core/index.js';
import type { AreaUncertaintyParts, IntegratedPeak, IntegratedRegion, IntegrationPlan } from '../integration/index.js';
import type { PeakMeasures, PeakResolution, SignalToNoise } from '../measures/index.js';
import type { RejectedCandidate } from '../peaks/index.js';
import type { Disturbance, Noise } from '../signal/index.js';
import type { Trace, TraceMeta } from '../trace/index.js';
import type { HoldUpTime } from './hold-up-time.js';
import type { Method, Settings } from './method.js';
import type { HiddenArea } from './rules-of-run.js';
import type { WithinRun } from './within-run.js';

/**
 * One peak with everything that is known about it. Every number is finite or
 * absent; `warnings` say why one is absent.
 *
 * @public
 */
export interface Peak extends IntegratedPeak, PeakMeasures {
  /** Name of the component, when one was identified. */
  readonly name?: string;
  /** [%] Share of the summed areas of all peaks. */
  readonly areaPercent?: number;
  /**
   * [signal unit s] How far its dividers are estimated to be off: divided less true area; see {@link divisionBias}. Not
   * corrected; its size is the division part of `areaUncertainty`.
   *
   * @defaultValue none: not divided, or divided by a fit
   */
  readonly divisionBias?: number;
  /** [signal unit s] One standard uncertainty of the area from noise, baseline and division. */
  readonly areaUncertainty?: number;
  /** The parts of `areaUncertainty`, each one standard uncertainty. */
  readonly areaUncertaintyParts?: AreaUncertaintyParts;
  /**
   * What widths, plates, tailing, asymmetry and moments were measured on, where that is not the trace: a neighbour
   * covers the peak there. Resolution to such a peak is between the apexes and the widths of the curves.
   *
   * @defaultValue none: on the trace
   */
  readonly measuredOn?: 'fitted curve';
  /** Standard uncertainties of what is measured, from the noise of this run. */
  readonly withinRun?: WithinRun;
  /** Resolution to the peak before. */
  readonly resolution?: PeakResolution;
  /** [-] Height of the smaller peak over the height of the valley before this peak. */
  readonly peakToValley?: number;
  /** Signal-to-noise ratio. */
  readonly signalToNoise?: SignalToNoise;
  /** What the blank has at this place, when one was given and it has more than the area is uncertain by; not subtracted. */
  readonly inBlank?: {
    /** [min] When it came. */
    readonly retentionTime: number;
    /** [signal unit s] Its area. */
    readonly area: number;
    /** [%] The same in percent of the area of this peak. */
    readonly share?: number;
  };
  /** What to doubt. */
  readonly warnings: readonly Warning[];
}

/**
 * One run, decided and measured.
 *
 * @public
 */
export interface Analysis {
  /** The record, by reference. */
  readonly trace: Trace;
  /** The peaks in order of time. */
  readonly peaks: readonly Peak[];
  /** What was looked at and not taken, with the failed test. */
  readonly rejected: readonly RejectedCandidate[];
  /** The stretches that were integrated, with their totals. */
  readonly regions: readonly IntegratedRegion[];
  /** The baseline of the run. */
  readonly baseline: Baseline;
  /** Its noise. */
  readonly noise: Noise;
  /** What the exclusions among the rules hide, with its area; absent when they hide nothing. */
  readonly hidden?: readonly HiddenArea[];
  /** What is in the record and no peak. */
  readonly disturbances: readonly Disturbance[];
  /** A candidate for the hold-up time, when an early disturbance shows one; nothing is computed from it. */
  readonly holdUpTime?: HoldUpTime;
  /** The blank that was given, analysed with the widths of this run; nothing was subtracted. */
  readonly blank?: Analysis;
  /** What to doubt about the run as a whole. */
  readonly warnings: readonly Warning[];
  /** Units of the numbers. */
  readonly units: {
    /** Always `'min'`. */
    readonly time: 'min';
    /** Unit of signal and height. */
    readonly signal: string;
    /** Unit of area, for example `'mAU s'`. */
    readonly area: string;
    /** How the units came to be known. */
    readonly provenance: Pick<TraceMeta, 'timeUnit' | 'signalUnit' | 'timeOrigin'>;
  };
  /** What was asked. */
  readonly method: Method;
  /** What it resolved to. */
  readonly settings: Settings;
  /** What was decided. */
  readonly plan: IntegrationPlan;
  /** What made it. */
  readonly provenance: {
    /** Name and version of the library. */
    readonly library: string;
  };
}
