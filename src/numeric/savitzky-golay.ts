import { sgg } from 'ml-savitzky-golay-generalized';
import { failOption } from '../core/index.js';

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
 * Made by ml-savitzky-golay-generalized, which is given even spacing only, and
 * never what it does not refuse itself: a degree as large as the window (it
 * answers NaN), a derivative above the degree (zeros), a degree above 5 (it
 * prints).
 *
 * @param values - Finite, evenly spaced; read, never changed.
 *
 * @see A. Savitzky, M. J. E. Golay (1964), Anal. Chem. 36, 1627-1639; ends after P. A. Gorry (1990), Anal. Chem. 62, 570-573
 */
export function savitzkyGolay(values: Float64Array, fit: SavitzkyGolayFit): Float64Array {
  const caller = 'savitzkyGolay';
  const { windowSize, polynomial, derivative } = fit;
  if (!Number.isInteger(windowSize) || windowSize % 2 === 0 || windowSize < 5 || windowSize > values.length) {
    failOption(caller, 'windowSize', `an odd whole number from 5 to the ${values.length} values`, windowSize);
  }
  if (!Number.isInteger(polynomial) || polynomial < 1 || polynomial > 5 || polynomial >= windowSize) {
    failOption(caller, 'polynomial', 'a whole number from 1 to 5, below the window', polynomial);
  }
  if (!Number.isInteger(derivative) || derivative < 0 || derivative > polynomial) {
    failOption(caller, 'derivative', `a whole number from 0 to ${polynomial}`, derivative);
  }
  return sgg(values, 1, { windowSize, polynomial, derivative });
}
