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
  const { time, signal, gaps } = trace;
  const count = time.length;
  const pieces: LinePiece[] = [];
  if (count === 0 || !(to >= from) || to < time[0]! || from > time[count - 1]!) return pieces;

  let piece: LinePiece = { time: [], value: [] };
  let i = firstAtOrAfter(time, from);
  let gap = 0;
  while (gap < gaps.length && gaps[gap]!.to <= from) gap++;

  const inGap = gap < gaps.length && gaps[gap]!.from < from;
  if (!inGap && i > 0 && time[i]! > from) add(piece, from, levelBetween(trace, i - 1, from));

  while (i < count && time[i]! <= to) {
    const nextGap = gap < gaps.length ? gaps[gap]! : undefined;
    if (nextGap !== undefined && time[i]! >= nextGap.to) {
      if (piece.time.length > 0) pieces.push(piece);
      piece = { time: [], value: [] };
      gap++;
      continue;
    }
    // One column: everything up to its right edge, the window's end or the next gap.
    const edge = columns.origin + (Math.floor((time[i]! - columns.origin) / columns.width) + 1) * columns.width;
    const first = i;
    let lowest = i;
    let highest = i;
    let low = signal[i]!;
    let high = low;
    i++;
    for (; i < count; i++) {
      const t = time[i]!;
      if (t >= edge || t > to || (nextGap !== undefined && t >= nextGap.to)) break;
      const y = signal[i]!;
      if (y < low) {
        low = y;
        lowest = i;
      } else if (y > high) {
        high = y;
        highest = i;
      }
    }
    const last = i - 1;
    const second = Math.min(lowest, highest);
    const third = Math.max(lowest, highest);
    add(piece, time[first]!, signal[first]!);
    if (second > first) add(piece, time[second]!, signal[second]!);
    if (third > second && third > first) add(piece, time[third]!, signal[third]!);
    if (last > third) add(piece, time[last]!, signal[last]!);
  }

  const endsInGap = gap < gaps.length && gaps[gap]!.from < to && to < gaps[gap]!.to;
  if (!endsInGap && i > 0 && i < count && time[i - 1]! < to) add(piece, to, levelBetween(trace, i - 1, to));
  if (piece.time.length > 0) pieces.push(piece);
  return pieces;
}

/** [signal unit] Level of the line through the samples at a time; that of the nearest end outside the record. */
export function levelAt(trace: Trace, at: number): number {
  const { time, signal } = trace;
  const i = firstAtOrAfter(time, at);
  if (i >= time.length) return signal[time.length - 1] ?? 0;
  return i === 0 || time[i]! === at ? signal[i]! : levelBetween(trace, i - 1, at);
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
