/** One parameter of a {@link PeakFamily}. */
export interface PeakParameter {
  readonly name: string;
  /** What it is measured in: the signal (`y`), the time (`x`), their product, an inverse, or nothing. */
  readonly unit: 'y' | 'x' | 'y x' | '1 / x' | '-';
  /** The smallest value, when there is one; `above 0` excludes 0 itself. */
  readonly domain: 'any' | 'above 0' | '0 to 1';
}

/** Distances from the apex to where the value has fallen to a fraction of the height, and their sum. */
export interface PeakWidth {
  /** [x unit] From the rising side to the apex. */
  readonly before: number;
  /** [x unit] From the apex to the falling side. */
  readonly after: number;
  /** [x unit] Both together. */
  readonly width: number;
}

/** Moments of a peak about its mean. */
export interface ShapeMoments {
  /** [x unit] Centre of gravity. */
  readonly mean: number;
  /** [x unit²] Second moment about the mean. */
  readonly variance: number;
  /** [x unit³] Third moment about the mean. */
  readonly third: number;
}

/**
 * A kind of peak as data, so that a fit can be told the kind of each component.
 *
 * Every function takes all parameters of a fit and the place `first` at which
 * those of this peak begin: nothing has to be cut out or copied. The first
 * parameter is proportional to the peak (height or area), the second moves it.
 */
export interface PeakFamily {
  readonly name: string;
  /** In the order in which they stand. */
  readonly parameters: readonly PeakParameter[];
  /**
   * Adds the values at `time[from]` to `time[to - 1]` to those places of `value`
   * and, when given, sets the same rows of columns `first`, `first + 1`, ... of
   * `jacobian` (column by column, each as long as `time`) to the derivatives by
   * the parameters. Other rows and columns are left alone. Outside the domain of a
   * parameter the values become NaN, which a fit takes as "not there". Allocates
   * nothing for a sample.
   */
  readonly evaluate: (
    time: ArrayLike<number>,
    from: number,
    to: number,
    parameters: ArrayLike<number>,
    first: number,
    value: Float64Array,
    jacobian?: Float64Array,
  ) => void;
  /** [y unit · x unit] Whole area. */
  readonly area: (parameters: ArrayLike<number>, first: number) => number;
  /** [x unit] Position of the apex. */
  readonly mode: (parameters: ArrayLike<number>, first: number) => number;
  /** Where it has a closed form: the width at a fraction of the height, between 0 and 1. */
  readonly width?: (parameters: ArrayLike<number>, first: number, fraction: number) => PeakWidth;
  /** Where they have a closed form: the moments. */
  readonly moments?: (parameters: ArrayLike<number>, first: number) => ShapeMoments;
}

/** What a family writes when a parameter is outside its domain. */
export function refuse(value: Float64Array, from: number, to: number): void {
  value.fill(NaN, from, to);
}

/** √(2π) */
export const rootTwoPi = 2.5066282746310002;
