import type { PeakShape } from './chromatogram-model.js';

/** A second view of the same run with the signal drawn taller. */
export interface Magnification {
  /** [-] How many times taller. */
  readonly factor: number;
  /** [signal unit] Lowest level it has to show. */
  readonly low: number;
  /** [signal unit] Highest level it is there for; what rises above its frame is cut off. */
  readonly high: number;
  /** The peaks it is there for. */
  readonly peaks: readonly PeakShape[];
}

/** Below so many pixels a peak is too small to be judged by eye. */
const tooSmall = 12;

/**
 * Decides whether small peaks need a taller view, and how tall: a factor from
 * 1, 2, 5, 10, 20 … that draws the smallest 40 px high, less if then not all
 * small ones would fit, but never so little that the smallest falls under
 * 10 px (those that do not fit then stay with the first view); less again if the noise would fill an eighth, or the drift of the
 * baseline under them more than half, of the view. Under 3 times it is not worth a
 * view of its own.
 *
 * @param peaks - Peaks in the window.
 * @param scale - [px per signal unit] Scale of the first view.
 * @param room - [px] Height of the second view.
 * @param noise - [signal unit] Standard deviation of the noise.
 * @param asked - [-] A factor the caller wants, or `'automatic'`.
 */
export function magnification(
  peaks: readonly PeakShape[],
  scale: number,
  room: number,
  noise: number,
  asked: number | 'automatic',
): Magnification | undefined {
  const small = peaks.filter(({ peak }) => peak.height !== 0 && Math.abs(peak.height) * scale < tooSmall);
  const meant = small.length > 0 || asked === 'automatic' ? small : peaks;
  if (meant.length === 0) return undefined;
  const factor = asked === 'automatic' ? automaticFactor(meant, scale, room, noise) : asked;
  if (asked === 'automatic' && factor < 3) return undefined;
  const shown = fitting(meant, room / (factor * scale));
  const levels = levelsOf(shown);
  return { factor, low: Math.min(...levels), high: Math.max(...levels), peaks: shown };
}

/** From the smallest peak upwards, those that fit in a span together; never none. */
function fitting(peaks: readonly PeakShape[], span: number): PeakShape[] {
  const bySize = peaks.toSorted((a, b) => Math.abs(a.peak.height) - Math.abs(b.peak.height));
  const taken: PeakShape[] = [bySize[0]!];
  for (const shape of bySize.slice(1)) if (spread(levelsOf([...taken, shape])) <= span) taken.push(shape);
  return taken;
}

/** [signal unit] Apexes and the baseline under them. */
function levelsOf(peaks: readonly PeakShape[]): number[] {
  return peaks.flatMap(({ apexBase, apexLevel }) => [apexBase, apexLevel]);
}

function automaticFactor(peaks: readonly PeakShape[], scale: number, room: number, noise: number): number {
  const extent = spread(levelsOf(peaks));
  const drift = spread(peaks.map(({ apexBase }) => apexBase));
  const smallest = Math.min(...peaks.map(({ peak }) => Math.abs(peak.height))) * scale;
  const allFit = (0.9 * room) / (extent * scale);
  const wanted = Math.max(Math.min(40 / smallest, allFit), 10 / smallest);
  const quiet = noise > 0 ? (0.125 * room) / (6 * noise * scale) : Infinity;
  const level = drift > 0 ? (0.55 * room) / (drift * scale) : Infinity;
  return roundDown(Math.min(wanted, quiet, level, 1e6));
}

/** The largest of 1, 2, 5, 10, 20 … that is not above a value; 1 for less. */
function roundDown(value: number): number {
  let best = 1;
  for (let decade = 1; decade <= value; decade *= 10) {
    for (const digit of [1, 2, 5]) if (digit * decade <= value) best = digit * decade;
  }
  return best;
}

function spread(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
