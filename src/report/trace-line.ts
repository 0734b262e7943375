import type { Trace } from '../trace/index.js';

/** A stretch of line without a break: points in order of time. */
export interface LinePiece {
  /** [min] Times. */
  readonly time: number[];
  /** [signal unit] Levels there. */
  readonly value: number[];
}

/** Columns of the drawing on the time axis. */
export interface Columns {
  /** [min] Where column 0 begins. */
  readonly origin: number;
  /** [min] Width of one column. */
  readonly width: number;
}

/**
 * The line through the samples between two times, reduced to what a picture
 * can show: of each pixel column the first, the lowest, the highest and the
 * last point, in order of time. The picture is the same as that of all
 * samples, so no peak or spike is lost however many samples a column holds,
 * and a record thinner than that keeps every sample. Both ends are
 * interpolated; a gap ends one piece and begins another.
 *
 * One pass over the samples between the two times.
 */
export function traceLine(trace: Trace, from: number, to: number, columns: Columns): LinePiece[] {
  const { time, gaps } = trace;
  const begin = firstAtOrAfter(time, from);
  const beyond = firstAfter(time, to);
  if (time.length === 0 || !(to >= from) || beyond === 0 || begin === time.length) return [];

  const pieces: LinePiece[] = [];
  let start = begin;
  for (const gap of gaps) {
    const next = firstAtOrAfter(time, gap.to);
    if (next <= start || next >= beyond) continue;
    pieces.push(thinned(trace, start, next, columns));
    start = next;
  }
  pieces.push(thinned(trace, start, beyond, columns));

  const inGap = (t: number): boolean => gaps.some((gap) => gap.from < t && t < gap.to);
  const first = pieces[0]!;
  const last = pieces[pieces.length - 1]!;
  if (begin > 0 && time[begin] !== from && !inGap(from)) {
    first.time.unshift(from);
    first.value.unshift(levelBetween(trace, begin - 1, from));
  }
  if (beyond < time.length && time[beyond - 1] !== to && !inGap(to) && !(from === to && first.time.length > 0)) {
    add(last, to, levelBetween(trace, beyond - 1, to));
  }
  return pieces.filter((piece) => piece.time.length > 0);
}

/** Samples from `start` to before `end`: of each column the first, the lowest, the highest and the last. */
function thinned({ time, signal }: Trace, start: number, end: number, { origin, width }: Columns): LinePiece {
  const piece: LinePiece = { time: [], value: [] };
  let i = start;
  while (i < end) {
    const edge = origin + (Math.floor((time[i]! - origin) / width) + 1) * width;
    const first = i;
    let lowest = i;
    let highest = i;
    let low = signal[i]!;
    let high = low;
    for (i++; i < end && time[i]! < edge; i++) {
      const y = signal[i]!;
      if (y < low) {
        low = y;
        lowest = i;
      } else if (y > high) {
        high = y;
        highest = i;
      }
    }
    const second = Math.min(lowest, highest);
    const third = Math.max(lowest, highest);
    add(piece, time[first]!, signal[first]!);
    if (second > first) add(piece, time[second]!, signal[second]!);
    if (third > second) add(piece, time[third]!, signal[third]!);
    if (i - 1 > third) add(piece, time[i - 1]!, signal[i - 1]!);
  }
  return piece;
}

/** [signal unit] Level of the line through the samples at a time; that of the nearest end outside the record. */
export function levelAt(trace: Trace, at: number): number {
  const { time, signal } = trace;
  const i = firstAtOrAfter(time, at);
  if (i >= time.length) return signal[time.length - 1] ?? 0;
  return i === 0 || time[i] === at ? signal[i]! : levelBetween(trace, i - 1, at);
}

function add(piece: LinePiece, time: number, value: number): void {
  piece.time.push(time);
  piece.value.push(value);
}

function levelBetween(trace: Trace, i: number, at: number): number {
  const { time, signal } = trace;
  const share = (at - time[i]!) / (time[i + 1]! - time[i]!);
  return signal[i]! + share * (signal[i + 1]! - signal[i]!);
}

/** Index of the first value above a bound; the length when there is none. */
function firstAfter(values: ArrayLike<number>, bound: number): number {
  const i = firstAtOrAfter(values, bound);
  return values[i] === bound ? i + 1 : i;
}

/** Index of the first value not below a bound; the length when there is none. */
export function firstAtOrAfter(values: ArrayLike<number>, bound: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (values[middle]! < bound) low = middle + 1;
    else high = middle;
  }
  return low;
}
