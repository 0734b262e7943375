import { firstAtOrAfter, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { Point } from './scale.js';

/** [signal unit] Level of the line through the samples at a time; that of the nearest end outside the record. */
export function levelAt({ time, signal }: Pick<Trace, 'time' | 'signal'>, at: number): number {
  return polylineAt({ time, value: signal }, at);
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
export function traceLine(
  trace: Pick<Trace, 'time' | 'signal' | 'gaps'>,
  from: number,
  to: number,
  columns: Columns,
): Point[][] {
  const { time, gaps } = trace;
  const end = Math.min(to, time[time.length - 1] ?? -Infinity);
  const pieces: Point[][] = [];
  let at = Math.max(from, time[0] ?? Infinity);
  for (const gap of [...gaps, { from: end, to: Infinity }]) {
    const stop = Math.min(gap.from, end);
    if (stop >= at) pieces.push(thinned(trace, at, stop, columns));
    at = Math.max(at, gap.to);
  }
  return pieces;
}

/** Both ends, and of the samples between them in each column the first, the lowest, the highest and the last. */
function thinned(trace: Pick<Trace, 'time' | 'signal'>, from: number, to: number, { origin, width }: Columns): Point[] {
  const { time, signal } = trace;
  const points: Point[] = [];
  let i = firstAtOrAfter(time, from);
  if (time[i] !== from) points.push([from, levelAt(trace, from)]);
  while (time[i]! <= to) {
    const edge = origin + (Math.floor((time[i]! - origin) / width) + 1) * width;
    const first = i;
    let lowest = i;
    let highest = i;
    for (i++; time[i]! < edge && time[i]! <= to; i++) {
      if (signal[i]! < signal[lowest]!) lowest = i;
      else if (signal[i]! > signal[highest]!) highest = i;
    }
    // A set keeps each once, in order.
    for (const k of new Set([first, Math.min(lowest, highest), Math.max(lowest, highest), i - 1])) {
      points.push([time[k]!, signal[k]!]);
    }
  }
  if (points.at(-1)![0] < to) points.push([to, levelAt(trace, to)]);
  return points;
}
