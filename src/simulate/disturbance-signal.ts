import { exp, firstAtOrAfter } from '../numeric/index.js';
import type { BumpRecipe, DisturbanceRecipe } from './disturbance-recipe.js';
import { peakCurve } from './peak-curve.js';

/**
 * Something in a simulated record that is no peak.
 *
 * @public
 */
export interface TrueDisturbance {
  /** What it is. */
  readonly kind: 'bump' | DisturbanceRecipe['kind'];
  /** [min] Where it is: its extreme, or where it begins. */
  readonly time: number;
  /** [min] Start; a Gaussian begins 5 standard deviations before its extreme. */
  readonly start: number;
  /** [min] End; of a step, which stays, its start. */
  readonly end: number;
  /** [signal unit] What it adds at its extreme, with its sign. */
  readonly height: number;
}

/** What is added at a time, with its truth. */
export interface DisturbanceSignal {
  readonly truth: TrueDisturbance;
  /** [min] Outside, nothing is added. */
  readonly from: number;
  readonly to: number;
  readonly value: (time: number) => number;
}

/** Standard deviations and time constants after which a disturbance is over. */
const shown = 5;

/** The signal of a bump. */
export function bumpSignal({ time, height, sigma }: BumpRecipe): DisturbanceSignal {
  const { from, to, value } = peakCurve({ shape: 'gaussian', retentionTime: time, height, sigma });
  return {
    truth: { kind: 'bump', time, start: time - shown * sigma, end: time + shown * sigma, height },
    from,
    to,
    value,
  };
}

/**
 * The signal of a disturbance in a record with readings at `time` [min], `interval` [s] apart as a rule.
 */
export function disturbanceSignal(recipe: DisturbanceRecipe, time: Float64Array, interval: number): DisturbanceSignal {
  const { kind, height, time: at } = recipe;
  if (kind === 'step') {
    return { truth: { kind, time: at, start: at, end: at, height }, from: at, to: Infinity, value: () => height };
  }
  if (kind === 'spike') {
    const half = Math.max((recipe.length ?? 0) / 60, interval / 60) / 2;
    const near = nearest(time, at);
    const from = Math.min(at - half, near);
    const to = Math.max(at + half * (1 - 1e-9), near);
    return { truth: { kind, time: at, start: from, end: to, height }, from, to, value: () => height };
  }
  if (kind === 'bubble') {
    const { stay = 0, decay = 0 } = recipe;
    const leaves = at + stay;
    const end = leaves + shown * decay;
    return {
      truth: { kind, time: at, start: at, end, height },
      from: at,
      to: leaves + 40 * decay,
      value: (t) => (t <= leaves ? height : height * exp((leaves - t) / decay)),
    };
  }
  const first = bumpSignal(recipe);
  const { second } = recipe;
  const next = second && bumpSignal({ ...second, time: at + second.delay });
  if (next === undefined) return { ...first, truth: { ...first.truth, kind } };
  return {
    truth: {
      kind,
      time: at,
      start: Math.min(first.truth.start, next.truth.start),
      end: Math.max(first.truth.end, next.truth.end),
      height,
    },
    from: Math.min(first.from, next.from),
    to: Math.max(first.to, next.to),
    value: (t) => first.value(t) + next.value(t),
  };
}

/** Adds what is limited in time to a signal, in place. */
export function addSignal(
  signal: Float64Array,
  time: Float64Array,
  { from, to, value }: Omit<DisturbanceSignal, 'truth'>,
): void {
  for (let i = firstAtOrAfter(time, from); i < time.length && time[i]! <= to; i++) signal[i]! += value(time[i]!);
}

/** [min] The reading nearest to a time. */
function nearest(time: Float64Array, at: number): number {
  const i = Math.min(firstAtOrAfter(time, at), time.length - 1);
  const before = time[Math.max(i - 1, 0)]!;
  return Math.abs(before - at) <= Math.abs(time[i]! - at) ? before : time[i]!;
}
