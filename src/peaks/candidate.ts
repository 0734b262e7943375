/**
 * A place that is taken for a peak, before anything is integrated.
 *
 * @public
 */
export interface Candidate {
  /** [min] Apex, to within the coarseness at which it was seen. */
  readonly apex: number;
  /** [min] Standard deviation of the Gaussian that is as wide at half height. */
  readonly sigma: number;
  /** [signal unit] Height above the baseline; negative downwards. */
  readonly height: number;
  /** [-] How far it stands above its deeper neighbouring valley, over the noise at its own coarseness. */
  readonly significance: number;
  /** Above or below the baseline. */
  readonly direction: 'up' | 'down';
  /** [min] Where it leaves the baseline, or where a neighbour or the record stops it. */
  readonly from: number;
  /** [min] Where it is back at the baseline, or stopped. */
  readonly to: number;
  /** What stops it at `from`. */
  readonly fromKind: 'baseline' | 'neighbour' | 'cut off';
  /** What stops it at `to`. */
  readonly toKind: 'baseline' | 'neighbour' | 'cut off';
  /** [a run] How many bumps at least as significant noise alone gives in a run as long. */
  readonly falseAlarms?: number;
}

/**
 * A place that was looked at and not taken as a peak.
 *
 * @public
 */
export interface RejectedCandidate {
  /** [min] Where. */
  readonly at: number;
  /** [signal unit] Height as the detection saw it; negative downwards. */
  readonly height: number;
  /** The first test it failed. */
  readonly test: string;
  /** [unit of the test] What the test measured. */
  readonly value: number;
  /** [unit of the test] What it would have needed. */
  readonly limit: number;
  /** The reason in one sentence, with the margin. */
  readonly text: string;
  /** [a run] How many bumps at least as significant noise alone gives in a run as long; absent where no bump was measured. */
  readonly falseAlarms?: number;
}
