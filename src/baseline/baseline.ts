import type { Warning } from '../core/index.js';

/**
 * A baseline: straight pieces between knots. It may serve many peaks; moving
 * the limits of a peak never changes it.
 *
 * @public
 */
export interface Baseline {
  /** Name by which a plan refers to it, for example `'run'`. */
  readonly id: string;
  /** How it was made, for example `'knots'`, `'arpls'`, `'straight'`, `'valley to valley'`. */
  readonly kind: string;
  /** [min] K times, strictly increasing, K at least 1. Level before the first and after the last. */
  readonly time: readonly number[];
  /** [signal unit] K levels. */
  readonly value: readonly number[];
  /** [signal unit] K standard uncertainties of the levels, when known. */
  readonly uncertainty?: readonly number[];
  /** What to doubt about it. */
  readonly warnings?: readonly Warning[];
}
