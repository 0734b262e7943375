/**
 * What is asked of {@link analyse}; every setting is a value or `'automatic'`.
 *
 * @public
 */
export interface Method {
  /** [min] Standard deviation of the narrowest peak to expect. */
  readonly narrowestPeak: number | 'automatic';
}

/**
 * What a method resolved to on a trace.
 *
 * @public
 */
export interface Settings {
  /** [min] Standard deviation of the narrowest peak that was expected. */
  readonly narrowestPeak: number;
}
