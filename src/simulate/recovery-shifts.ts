import type { Analysis } from '../analysis/index.js';
import { failOption } from '../core/index.js';
import type { AddedPeak } from './added-peaks.js';
import { createRandom } from './random.js';

/** How far all peaks are moved in each repeat. */
export interface Shifts {
  /** [min] One for each repeat. */
  readonly shifts: readonly number[];
  /** Whether the noise below the peaks is about the same in all repeats of a place. */
  readonly onePlace: boolean;
}

/** [-] Half widths by which peaks are moved without being told, and how often a free place is looked for. */
const automaticReach = 10;
const attempts = 100;

/** Draws the moves; see `RecoveryOptions.moveBy`. */
export function drawShifts(
  caller: string,
  before: Analysis,
  added: readonly AddedPeak[],
  { repeats, places, moveBy, seed }: { repeats: number; places: readonly number[]; moveBy: number | 'automatic'; seed: number }, // prettier-ignore
): Shifts {
  const { time } = before.trace;
  const first = time[0]!;
  const last = time.at(-1)!;
  const taken = [...before.peaks, ...before.disturbances];
  const isInside = (shift: number): boolean =>
    added.every(({ single: { start, end } }) => start + shift >= first && end + shift <= last);
  const isFree = (shift: number): boolean =>
    added.every(({ single }) =>
      taken.every(({ start, end }) => single.end + shift < start || single.start + shift > end),
    );
  const own = added[0]!.curve.position;
  const bases = places.length > 0 ? places.map((t) => t - own) : [0];
  bases.forEach((base, i) => {
    if (isInside(base)) return;
    const field = places.length > 0 ? `places[${i}]` : 'peaks';
    failOption(caller, field, `such that the peaks lie in the record, ${first} to ${last} min`, places[i] ?? own);
  });
  const widest = Math.max(...added.map(({ single }) => single.widths.halfHeight));
  const sample = (last - first) / (time.length - 1);
  const { uniform } = createRandom(seed, 6);
  let onePlace = moveBy !== 'automatic' && moveBy < widest;
  const shifts = Array.from({ length: repeats }, (_, r) => {
    const base = bases[r % bases.length]!;
    const draw = (reach: number): number => base + (2 * uniform() - 1) * reach;
    const suits = moveBy === 'automatic' ? (s: number) => isInside(s) && isFree(s) : isInside;
    if (moveBy !== 'automatic' || isFree(base)) {
      for (let k = 0; k < attempts; k++) {
        const shift = draw(moveBy === 'automatic' ? automaticReach * widest : moveBy);
        if (suits(shift)) return shift;
      }
    }
    onePlace = true;
    return draw(sample / 2);
  });
  return { shifts, onePlace };
}
