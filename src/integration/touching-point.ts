import { nextAtOrAfter, type Polyline } from '../numeric/index.js';
import { levelAt } from './local-level.js';

/** A line that starts at a valley and is to meet the record again behind the peak that rides. */
export interface SkimQuestion {
  /** The record. */
  readonly record: Polyline;
  /** The record about the peak that rides, upside down when it points down; a long one in means of blocks. */
  readonly curve: Polyline;
  /** -1 when it points down. */
  readonly sign: 1 | -1;
  /** [min] The valley. */
  readonly valley: number;
  /** [signal unit] Level of the record there. */
  readonly level: number;
  /** [min] Apex of the peak that rides, seen from the valley the last one when there are several. */
  readonly apex: number;
  /** [min] As far as the line may go; before the valley for a peak on the front of another. */
  readonly room: number;
  /** [min] Standard deviation of the narrowest of them. */
  readonly sigma: number;
}

/** Where a line meets the record again. */
export interface TouchingPoint {
  /** [min] Where; `room` when it does not meet it before. */
  readonly at: number;
  /** [signal unit] Level there. */
  readonly level: number;
  /** Whether it does meet it, inside. */
  readonly inside: boolean;
}

/** [sigma] Half the length of the running means by which the place is found. */
const meanOver = 0.3;

/**
 * Where the straight line from a valley touches the record behind the peak that
 * rides: y(te) - y(tv) = y'(te) (te - tv), the place at which the line from the
 * valley is least steep upwards, so that it cuts the record nowhere. Found on
 * running means over 0.6 standard deviations, solved on the local fit by halving.
 */
export function touchingPoint(question: SkimQuestion): TouchingPoint {
  const { valley, level } = question;
  const found = lowest(question, (t, y) => (y - level) / Math.abs(t - valley));
  // Above 0 where the line from the valley still gets less steep.
  return settle(question, found, (t, { value, slope }) => value - level - slope * (t - valley));
}

/** Where a falling line, such as the tail of the larger peak drawn on, meets the record again behind the peak that rides. */
export function meetingPoint(question: SkimQuestion, line: (t: number) => number): TouchingPoint {
  const found = firstBelow(question, line);
  return settle(question, found, (t, { value }) => value - line(t));
}

/** Solves a function that is above 0 before the place and not behind it. */
function settle(
  { record, sign, valley, apex, room, sigma }: SkimQuestion,
  found: number | undefined,
  excess: (t: number, here: { readonly value: number; readonly slope: number }) => number,
): TouchingPoint {
  const here = (t: number) => levelAt(record, t, sigma, sign);
  const end = { at: room, level: here(room).value, inside: false };
  if (found === undefined) return end;
  const ahead = room > valley ? 1 : -1;
  const clip = (t: number): number =>
    ahead > 0 ? Math.max(apex, Math.min(room, t)) : Math.min(apex, Math.max(room, t));
  const at = (t: number): number => excess(t, here(t));
  let low = clip(found - ahead * 1.5 * sigma);
  let high = clip(found + ahead * 1.5 * sigma);
  // Noise may leave no change of sign about a place that was found.
  if (at(low) > 0 && at(high) <= 0) {
    for (let i = 0; i < 50; i++) {
      const middle = (low + high) / 2;
      if (at(middle) > 0) low = middle;
      else high = middle;
    }
    return { at: high, level: here(high).value, inside: true };
  }
  return high === room ? end : { at: found, level: here(found).value, inside: true };
}

/** The running means between apex and room, from the apex on. */
function meansOf({ curve, apex, room, sigma }: SkimQuestion): (readonly [t: number, y: number])[] {
  const { time, value } = curve;
  const sums = new Float64Array(time.length + 1);
  for (let i = 0; i < time.length; i++) sums[i + 1] = sums[i]! + value[i]!;
  const means: [number, number][] = [];
  let first = 0;
  let after = 0;
  for (let i = 0; i < time.length; i++) {
    const t = time[i]!;
    const reach = Math.min(meanOver * sigma, Math.abs(t - apex), Math.abs(room - t));
    if ((t - apex) * (t - room) > 0) continue;
    first = nextAtOrAfter(time, t - reach, first);
    after = Math.max(first + 1, nextAtOrAfter(time, t + reach, after));
    means.push([t, (sums[after]! - sums[first]!) / (after - first)]);
  }
  return room < apex ? means.reverse() : means;
}

/** [min] Place of the least of a function of the running means; nothing when it is the last. */
function lowest(question: SkimQuestion, of: (t: number, y: number) => number): number | undefined {
  let least = Infinity;
  let place: number | undefined;
  let last: number | undefined;
  for (const [t, y] of meansOf(question)) {
    const value = of(t, y);
    if (value < least) [least, place] = [value, t];
    last = t;
  }
  return place === last ? undefined : place;
}

/** [min] First place behind the apex where the running means are not above a line. */
function firstBelow(question: SkimQuestion, line: (t: number) => number): number | undefined {
  for (const [t, y] of meansOf(question)) if (y <= line(t)) return t;
  return undefined;
}
