/**
 * A doubt about data or a result, returned beside it, never printed.
 *
 * @public
 */
export interface Warning {
  /** Stable name of the doubt, for programs, for example `'peak-cut-off'`. */
  readonly code: string;
  /** One sentence for people: what, where, and what it means for the numbers. */
  readonly message: string;
  /** [min] Where on the time axis, if it has a place. */
  readonly at?: number;
}
