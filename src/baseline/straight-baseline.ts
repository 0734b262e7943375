import { failOption } from '../core/index.js';
import { firstAtOrAfter, joinStretches, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { BlockMeans, Interval } from './block-means.js';

/**
 * A point a baseline is to pass through.
 *
 * @public
 */
export interface BaselinePoint {
  /** [min] Where, inside the record. */
  readonly time: number;
  /** [signal unit] Level there. Left out: that of the signal. */
  readonly value?: number | undefined;
}

/**
 * Options of {@link estimateBaseline} with `kind: 'straight'`.
 *
 * @public
 */
export interface StraightOptions {
  /** Straight from point to point. */
  readonly kind: 'straight';
  /**
   * The points in order of time, or how they are found. `'lowest points'`: the corners of the line that is stretched
   * from below along the free means, convex. `'free ends'`: where each stretch that `avoid` leaves free begins and ends.
   *
   * @defaultValue 'lowest points'
   */
  readonly through?: readonly BaselinePoint[] | 'lowest points' | 'free ends' | undefined;
  /**
   * Stretches that hold no point. They may overlap and reach beyond the record. Given points lie where they lie.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [min] The level of the signal at a point is that of its least-squares line over so much of the record about a given point,
   * inwards from a free end; `'lowest points'` takes means about half as long. Automatic: a hundredth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly window?: number | 'automatic' | undefined;
}

export const straightDefaults = { kind: 'straight', through: 'lowest points', avoid: [], window: 'automatic' } as const;

/** Corners of a straight-lined baseline. */
export interface Corners {
  readonly time: number[];
  readonly value: number[];
}

/** Corners at the given times; the level is the given one, or that of the signal, on its own times. */
export function cornersAt(caller: string, trace: Trace, points: readonly BaselinePoint[], window: number): Corners {
  const { time } = trace;
  const [first, last] = [time[0]!, time[time.length - 1]!];
  const given: unknown = points;
  if (!Array.isArray(given) || given.length === 0)
    failOption(caller, 'through', "'lowest points', 'free ends' or a list of points", points);
  points.forEach((point, i) => {
    if (!(point?.time >= first && point.time <= last && (i === 0 || point.time > points[i - 1]!.time)))
      failOption(
        caller,
        `through[${i}].time`,
        `later than the one before and from ${first} to ${last} min`,
        point?.time,
      );
    if (point.value !== undefined && !Number.isFinite(point.value))
      failOption(caller, `through[${i}].value`, 'a finite number, or left out', point.value);
  });
  return {
    time: points.map((point) => point.time),
    value: points.map(({ time: t, value }) => value ?? levelOf(trace, t, t - window / 2, t + window / 2)),
  };
}

/** Corners at both ends of every stretch that is free. */
export function cornersAtFreeEnds(trace: Trace, taken: readonly Interval[], window: number): Corners {
  const corners: Corners = { time: [], value: [] };
  const { from, to } = joinStretches(taken);
  const put = (at: number, a: number, b: number): void => {
    if (!(at > (corners.time.at(-1) ?? -Infinity))) return;
    corners.time.push(at);
    corners.value.push(levelOf(trace, at, a, b));
  };
  const last = trace.time[trace.time.length - 1]!;
  for (let k = 0; k <= from.length; k++) {
    const a = Math.max(trace.time[0]!, k === 0 ? -Infinity : to[k - 1]!);
    const b = Math.min(last, k === from.length ? Infinity : from[k]!);
    if (!(b >= a)) continue;
    put(a, a, Math.min(b, a + window));
    put(b, Math.max(a, b - window), b);
  }
  return corners;
}

/**
 * Corners of the lower convex hull of the free means, run on to both ends of the
 * record (monotone chain: A. M. Andrew, Inf. Process. Lett. 9 (1979) 216-219, from memory).
 */
export function cornersBelow({ y, w, count, first, distance, line }: BlockMeans, start: number, end: number): Corners {
  const hull: number[] = [];
  for (let i = 0; i < count; i++) {
    if (!(w[i]! > 0)) continue;
    while (hull.length > 1) {
      const [a, b] = [hull[hull.length - 2]!, hull[hull.length - 1]!];
      if ((y[b]! - y[a]!) * (i - a) < (y[i]! - y[a]!) * (b - a)) break;
      hull.pop();
    }
    hull.push(i);
  }
  const at = (i: number): number => first + i * distance;
  const level = (i: number): number => y[i]! + line.at + line.slope * i;
  const beyond = (t: number, a: number, b: number): number =>
    level(a) + ((level(b) - level(a)) * (t - at(a))) / ((b - a) * distance);
  const time = hull.map(at);
  const value = hull.map(level);
  if (start < time[0]!) {
    value.unshift(beyond(start, hull[0]!, hull[1]!));
    time.unshift(start);
  }
  if (end > time[time.length - 1]!) {
    value.push(beyond(end, hull[hull.length - 2]!, hull[hull.length - 1]!));
    time.push(end);
  }
  return { time, value };
}

/** [samples] Fewer than this fix no line. */
const fewestOfLine = 3;

/** Level at `t` of the least-squares line of the samples from `a` to `b`; that of the signal itself when they are too few. */
function levelOf({ time, signal }: Trace, t: number, a: number, b: number): number {
  const from = firstAtOrAfter(time, a);
  let to = firstAtOrAfter(time, b);
  if (time[to] === b) to++;
  const n = to - from;
  if (n < fewestOfLine) return polylineAt({ time, value: signal }, t);
  let x = 0;
  let y = 0;
  for (let i = from; i < to; i++) {
    x += (time[i]! - t) / n;
    y += signal[i]! / n;
  }
  let xx = 0;
  let xy = 0;
  for (let i = from; i < to; i++) {
    const d = time[i]! - t - x;
    xx += d * d;
    xy += d * (signal[i]! - y);
  }
  return y - (xy / xx) * x;
}
