import { sgg } from 'ml-savitzky-golay-generalized';

/** What {@link savitzkyGolay} fits in each window. */
export interface SavitzkyGolayFit {
  /** [samples] Odd, from 5 to the number of values. */
  readonly windowSize: number;
  /** [-] Degree of the polynomial, from 1 to 5 and below `windowSize`. */
  readonly polynomial: number;
  /** [-] Derivative that is taken, from 0 to `polynomial`. */
  readonly derivative: number;
}

/**
 * Value, or derivative for spacing 1, of the least-squares polynomial of a
 * moving window at its centre, and at the two ends that of the first and last
 * full window; so a polynomial of the fitted degree comes back unchanged
 * everywhere.
 *
 * Made by ml-savitzky-golay-generalized, which is given even spacing only. It
 * refuses a window that is even, below 5 or longer than the values itself; a
 * degree as large as the window (it answers NaN) or above 5 (it prints), and a
 * derivative above the degree (zeros), the caller must not ask for.
 *
 * @param values - Finite, evenly spaced; read, never changed.
 *
 * @see A. Savitzky, M. J. E. Golay (1964), Anal. Chem. 36, 1627-1639; ends after P. A. Gorry (1990), Anal. Chem. 62, 570-573
 */
export function savitzkyGolay(values: Float64Array, fit: SavitzkyGolayFit): Float64Array {
  return sgg(values, 1, fit);
}
