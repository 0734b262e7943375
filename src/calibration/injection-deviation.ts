/**
 * One injection, seen by all its components.
 *
 * @public
 */
export interface InjectionDeviation {
  /** Name of the injection. */
  readonly injection: string;
  /** [volume unit] Volume it was meant to have, when stated. */
  readonly volume?: number;
  /** What each component deviates. */
  readonly components: readonly {
    /** Name of the component. */
    readonly component: string;
    /** [%] Residual in percent of its line. */
    readonly relativeResidual: number;
    /** [-] Weight in the common part; all weights of an injection sum to 1. */
    readonly weight: number;
  }[];
  /** [%] Common part: weighted mean of the relative residuals; absent with fewer than two components. */
  readonly shared?: number;
  /** [%] One standard uncertainty of the common part, from how far components go their own ways in all injections. */
  readonly standardUncertainty?: number;
  /** Whether the common part is significant, all injections being looked at together. */
  readonly significant: boolean;
  /** [volume unit] The residuals as errors of the injected volume, weighted mean; when volumes are known. */
  readonly volumeError?: number;
}

/**
 * What {@link sharedDeviations} found.
 *
 * @public
 */
export interface SharedDeviations {
  /** Whether a common part could be told from what components do on their own. */
  readonly outcome: 'separated' | 'not separable';
  /** Which injections deviate, or why it cannot be told, in words. */
  readonly text: string;
  /** Unit of volumes. */
  readonly volumeUnit: string;
  /** The injections in the order of the first calibration that has them. */
  readonly injections: readonly InjectionDeviation[];
  /** [-] Degrees of freedom of the uncertainties; absent when not separable. */
  readonly degreesOfFreedom?: number;
  /** [-] Probability that components without anything in common look like this or more so (F test); absent when not separable. */
  readonly probability?: number;
  /** [-] Confidence of the verdicts, for the set of injections as a whole. */
  readonly confidence: number;
}
