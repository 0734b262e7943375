/**
 * Something in the record that is not a peak of a component: kept with its
 * area, and turned into a peak in one step when the analyst disagrees.
 *
 * @public
 */
export interface Disturbance {
  /** What it looks like. */
  readonly kind: 'spike' | 'step' | 'bubble' | 'early disturbance' | 'gap' | 'clock step' | 'saturation';
  /** [min] Start. */
  readonly start: number;
  /** [min] End. */
  readonly end: number;
  /** [min] Its extreme. */
  readonly at: number;
  /** [signal unit] Height of the extreme above the baseline; negative below. */
  readonly height?: number;
  /** [signal unit s] Area between signal and baseline; of a spike, the area that the straight line below it takes off. */
  readonly area?: number;
  /** What was seen that makes it a disturbance, in a sentence. */
  readonly evidence: string;
  /** What it means for the numbers, and what can be done about it. */
  readonly text: string;
}
