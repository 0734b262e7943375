import type { PeakShape } from './chromatogram-model.js';
import { exponentOf, tenTo } from './number-text.js';

/** A second view of the same run with the signal drawn taller. */
export interface Magnification {
  /** [-] How many times taller. */
  readonly factor: number;
  /** [signal unit] Lowest level it has to show. */
  readonly low: number;
  /** The peaks it is there for. */
  readonly peaks: readonly PeakShape[];
}

/**
 * Decides whether small peaks need a taller view, and how tall. Small is less
 * than a fifteenth of the view, too little to be judged by eye. The factor is the
 * largest of 1, 2, 5, 10, 20 … that draws the smallest over at most two ninths of
 * the view, less if the drift of the baseline under the small ones and 24 standard
 * deviations of the noise would fill half of it. Those that do not fit beside the
 * smallest stay with the first view. Under 3 times it is not worth a view of its own.
 *
 * @param peaks - Peaks in the window.
 * @param span - [signal unit] What the first view shows from its lower to its upper end.
 * @param noise - [signal unit] Standard deviation of the noise.
 * @param asked - [-] A factor the caller wants, if any.
 */
export function magnification(
  peaks: readonly PeakShape[],
  span: number,
  noise: number,
  asked: number | undefined,
): Magnification | undefined {
  const sizeOf = ({ peak }: PeakShape): number => Math.abs(peak.height) / span;
  const small = peaks.filter((shape) => sizeOf(shape) < 1 / 15 && sizeOf(shape) > 0);
  const [first, ...others] = (small.length > 0 || asked === undefined ? small : peaks).toSorted(
    (a, b) => sizeOf(a) - sizeOf(b),
  );
  if (first === undefined) return undefined;
  /** [-] Share of a view that is left to the signal. */
  const room = 5 / 6;
  const spread = (levels: readonly number[]): number => (Math.max(...levels) - Math.min(...levels)) / span;
  const levelsOf = (shapes: readonly PeakShape[]): number[] => shapes.flatMap(({ foot, head }) => [foot, head]);

  const unrest = spread(small.map(({ foot }) => foot)) + (24 * noise) / span;
  const factor = asked ?? roundDown(Math.min(2 / 9 / sizeOf(first), room / (2 * unrest), 1e6));
  if (asked === undefined && factor < 3) return undefined;
  // From the smallest upwards, those that fit together.
  const shown = [first];
  for (const shape of others) if (spread(levelsOf([...shown, shape])) * factor <= room) shown.push(shape);
  return { factor, low: Math.min(...levelsOf(shown)), peaks: shown };
}

/** The largest of 1, 2, 5, 10, 20 … that is not above a value. */
function roundDown(value: number): number {
  const decade = tenTo(exponentOf(value));
  return decade * [5, 2, 1].find((digit) => digit * decade <= value)!;
}
