import { firstAtOrAfter, quantileInPlace, type Workspace } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';

/**
 * The signal on an equal grid, for deciding only; areas are always taken from
 * the raw samples on their own axis. A trace that is equally spaced already is
 * used as it is, without a copy.
 */
export interface DecisionGrid {
  /** [min] Time of the first point. */
  readonly start: number;
  /** [min] Distance of two points. */
  readonly step: number;
  /** Number of points. */
  readonly count: number;
  /** [signal unit] Values. */
  readonly values: Float64Array;
  /** Whether the trace had to be interpolated. */
  readonly resampled: boolean;
  /** [-] Mean distance of the samples over the step, in eight equal stretches: how far the grid is finer than what was recorded. */
  readonly coarseness: readonly number[];
  /** Points that lie in gaps of the record and were made up: first and last index of each stretch. */
  readonly gaps: readonly (readonly [number, number])[];
}

/** Largest departure from an equal grid, in steps, that counts as equal: rounding of printed times. */
const equalWithin = 0.01;

/**
 * Lays the grid. An unequal axis is interpolated by the cubic through the four
 * nearest samples (straight in gaps and at the ends); the step is the smallest
 * median spacing of sixteen stretches, so that the denser of two rates is kept.
 */
export function layDecisionGrid(trace: Trace, workspace: Workspace): DecisionGrid {
  const { time, signal } = trace;
  const n = time.length;
  const first = time[0]!;
  const span = time[n - 1]! - first;
  const meanStep = span / (n - 1);
  let equal = true;
  const tolerance = equalWithin * meanStep;
  for (let i = 0; i < n; i++) {
    const off = time[i]! - (first + i * meanStep);
    if (off > tolerance || off < -tolerance) {
      equal = false;
      break;
    }
  }
  if (equal)
    return {
      start: first,
      step: meanStep,
      count: n,
      values: signal,
      resampled: false,
      coarseness: new Array<number>(8).fill(1),
      gaps: [],
    };
  const step = Math.max(denseStep(time, workspace), span / (4 * n));
  const count = Math.floor(span / step + 1e-9) + 1;
  const values = workspace.take('grid', count);
  let j = 0;
  for (let i = 0; i < count; i++) {
    const t = first + i * step;
    while (j < n - 2 && time[j + 1]! <= t) j++;
    values[i] = interpolate(time, signal, j, t);
  }
  const coarseness = Array.from({ length: 8 }, (_, s) => {
    const from = firstAtOrAfter(time, first + (span * s) / 8);
    const to = firstAtOrAfter(time, first + (span * (s + 1)) / 8);
    return Math.max(1, span / 8 / step / Math.max(1, to - from));
  });
  const gaps = trace.gaps.map((g) => {
    const from = Math.ceil((g.from - first) / step);
    return [from, Math.max(from, Math.floor((g.to - first) / step))] as const;
  });
  return { start: first, step, count, values, resampled: true, coarseness, gaps };
}

/** The smallest median spacing over sixteen stretches of the trace. */
function denseStep(time: Float64Array, workspace: Workspace): number {
  const n = time.length;
  const stretches = Math.max(1, Math.min(16, Math.floor((n - 1) / 32)));
  let smallest = Infinity;
  for (let s = 0; s < stretches; s++) {
    const from = Math.floor((s * (n - 1)) / stretches);
    const to = Math.floor(((s + 1) * (n - 1)) / stretches);
    const spacing = workspace.take('spacing', to - from);
    for (let i = from; i < to; i++) spacing[i - from] = time[i + 1]! - time[i]!;
    smallest = Math.min(smallest, quantileInPlace(spacing, to - from, 0.5));
  }
  return smallest;
}

/** Value at `t` between samples j and j + 1. */
function interpolate(time: Float64Array, signal: Float64Array, j: number, t: number): number {
  const t1 = time[j]!;
  const t2 = time[j + 1]!;
  const y1 = signal[j]!;
  const y2 = signal[j + 1]!;
  const inside = t2 - t1;
  const straight = y1 + ((y2 - y1) * (t - t1)) / inside;
  if (j < 1 || j > time.length - 3) return straight;
  const t0 = time[j - 1]!;
  const t3 = time[j + 2]!;
  // A cubic through points of very different spacing swings; there the chord is safer.
  if (inside > 6 * (t1 - t0) || inside > 6 * (t3 - t2)) return straight;
  const y0 = signal[j - 1]!;
  const y3 = signal[j + 2]!;
  const a = t - t0;
  const b = t - t1;
  const c = t - t2;
  const d = t - t3;
  return (
    (y0 * b * c * d) / ((t0 - t1) * (t0 - t2) * (t0 - t3)) +
    (y1 * a * c * d) / ((t1 - t0) * (t1 - t2) * (t1 - t3)) +
    (y2 * a * b * d) / ((t2 - t0) * (t2 - t1) * (t2 - t3)) +
    (y3 * a * b * c) / ((t3 - t0) * (t3 - t1) * (t3 - t2))
  );
}
