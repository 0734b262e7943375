/**
 * A place that may be a peak.
 *
 * @public
 */
export interface Candidate {
  /** [min] Apex. */
  readonly apex: number;
  /** [min] Standard deviation of the Gaussian that matches it best. */
  readonly sigma: number;
  /** [signal unit] Height above its surroundings, as the detection saw it; negative downwards. */
  readonly height: number;
  /** [-] Height of the matched response over its noise. */
  readonly significance: number;
  /** Above or below its surroundings. */
  readonly direction: 'up' | 'down';
  /** Whether the signal has an extreme of its own there, or only a shoulder. */
  readonly form: 'peak' | 'shoulder';
}

/**
 * A place that was looked at and not taken as a peak.
 *
 * @public
 */
export interface RejectedCandidate {
  /** [min] Where. */
  readonly at: number;
  /** [signal unit] Height as the detection saw it. */
  readonly height: number;
  /** The first test it failed. */
  readonly test: string;
  /** [unit of the test] What the test measured. */
  readonly value: number;
  /** [unit of the test] What it would have needed. */
  readonly limit: number;
  /** The reason in one sentence, with the margin. */
  readonly text: string;
}
