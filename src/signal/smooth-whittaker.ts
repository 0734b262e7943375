import { checkPositive, checkWhole, fail, resolveOptions } from '../core/index.js';
import { penalisedWork, solvePenalised } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { filterStretches } from './even-stretches.js';

/**
 * Settings of `smooth` with `method: 'whittaker'`.
 *
 * @public
 */
export interface WhittakerOptions {
  /** Penalised least squares. */
  readonly method: 'whittaker';
  /**
   * [min] A wave of 2π times this is followed by half, a shorter one less, a longer one more. In samples it is the fourth root
   * of lambda (with `differences: 1` the square root), and may be up to 300.
   */
  readonly sharpestBend: number;
  /**
   * [-] Which differences of the result are kept small: 2 for its bends, 1 for its slopes.
   *
   * @defaultValue 2
   */
  readonly differences?: number | undefined;
}

const defaults = { method: 'whittaker', sharpestBend: 0, differences: 2 } as const;
/** [samples] Beyond, fewer than five digits are left of the solution. */
const widest = 300;

/**
 * The line z that makes the sum of (y - z)² plus lambda times the sum of its
 * squared second (or first) differences least. Area and, with second differences, mean time
 * are kept exactly, and a straight line (a level) comes back unchanged; nothing special is done at the ends. White
 * noise falls to 0.51 of itself over the root of `sharpestBend` in samples.
 *
 * @see E. T. Whittaker, Proc. Edinburgh Math. Soc. 41 (1923) 63-75; P. H. C. Eilers, Anal. Chem. 75 (2003) 3631-3636
 *   (both from memory)
 */
export function smoothWhittaker(trace: Trace, options: WhittakerOptions): Trace {
  const { sharpestBend, differences } = resolveOptions<{ method: string; sharpestBend: number; differences: number }>(
    'smooth',
    defaults,
    options,
  );
  checkPositive('smooth', 'sharpestBend', sharpestBend);
  checkWhole('smooth', 'differences', differences, 1, 2);
  return {
    ...trace,
    ...filterStretches(trace, 3, ({ values, step, start, end }) => {
      const bend = sharpestBend / step;
      if (!(bend <= widest)) {
        fail(
          'smooth',
          'option-invalid',
          `a sharpestBend of ${sharpestBend} min is ${bend.toPrecision(4)} samples of ${step.toPrecision(4)} min from ${start} to ${end} min; it must be at most ${widest}, here ${(widest * step).toPrecision(3)} min. Widen the step with resampleTrace.`,
          { field: 'sharpestBend', value: sharpestBend, expected: `at most ${widest} samples` },
        );
      }
      const n = values.length;
      const ones = new Float64Array(n).fill(1);
      const line = new Float64Array(n);
      // Off the straight line through the ends, for the digits.
      const [first, rise] = [values[0]!, (values[n - 1]! - values[0]!) / (n - 1)];
      const level = (i: number): number => (differences === 2 ? first + rise * i : first);
      const [stiff, pull] = differences === 2 ? [bend * bend * (bend * bend), 0] : [0, bend * bend];
      const y = values.map((value, i) => value - level(i));
      solvePenalised(y, ones, ones, n, stiff, pull, line, penalisedWork(n));
      return line.map((value, i) => value + level(i));
    }),
  };
}
