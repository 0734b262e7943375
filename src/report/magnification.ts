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
 * Decides whether small peaks need a taller view, and how tall. Small is lower
 * than 12 px, too little to be judged by eye. The factor is the one from 1, 2, 5,
 * 10, 20 … that draws the smallest 40 px high, less if then not all small ones
 * would fit, but never so little that the smallest falls under 10 px (those that
 * do not fit then stay with the first view); less again if the drift of the
 * baseline under them and four times the breadth of the noise would fill half of
 * the view. Under 3 times it is not worth a view of its own.
 *
 * @param peaks - Peaks in the window.
 * @param scale - [px per signal unit] Scale of the first view.
 * @param room - [px] Height of the second view.
 * @param noise - [signal unit] Standard deviation of the noise.
 * @param asked - [-] A factor the caller wants, if any.
 */
export function magnification(
  peaks: readonly PeakShape[],
  scale: number,
  room: number,
  noise: number,
  asked: number | undefined,
): Magnification | undefined {
  const small = peaks.filter(({ peak }) => Math.abs(peak.height) * scale < 12 && peak.height !== 0);
  const [first, ...others] = (small.length > 0 || asked === undefined ? small : peaks).toSorted(
    (a, b) => Math.abs(a.peak.height) - Math.abs(b.peak.height),
  );
  if (first === undefined) return undefined;
  const spread = (levels: readonly number[]): number => scale * (Math.max(...levels) - Math.min(...levels));
  const levelsOf = (shapes: readonly PeakShape[]): number[] => shapes.flatMap(({ foot, head }) => [foot, head]);

  let factor = asked;
  if (factor === undefined) {
    const smallest = Math.abs(first.peak.height) * scale;
    const wanted = Math.max(Math.min(40, (0.9 * room * smallest) / spread(levelsOf(small))), 10) / smallest;
    const unrest = spread(small.map(({ foot }) => foot)) + 24 * noise * scale;
    const bound = roundDown(Math.min(wanted, room / (2 * unrest), 1e6));
    if (bound < 3) return undefined;
    factor = bound;
  }
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
