import { baselineAt, baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { firstAtOrAfter } from '../numeric/index.js';
import { addCurve, type Curve } from './curve-fit.js';
import type { Trace } from '../trace/index.js';

/** What a fit is held against: means of equal blocks of samples, off the baseline. */
export interface FitWindow {
  /** [min] Time of each mean, and room for what a fit adds behind them. */
  readonly time: Float64Array;
  /** [signal unit] Mean above the baseline. */
  readonly value: Float64Array;
  /** Number of means. */
  readonly count: number;
  /** [signal unit] Tail of earlier peaks, which was taken off each mean; nothing when it does not count. */
  readonly tail: Float64Array | undefined;
  /** [1 / signal unit] One over what a curve may miss each mean by; 0 where nothing is known. */
  readonly weight: Float64Array;
  /** [signal unit] Noise of one mean. */
  readonly noise: number;
  /** [-] Variance of the mean of 8 and of 32 of them, over that of as many independent ones; at least 1. */
  readonly colour: number;
  readonly slowColour: number;
  /** [signal unit] How far the baseline may be off. */
  readonly slack: number;
  /** [min] Middle, and half the length. */
  readonly middle: number;
  readonly half: number;
}

/** [-] Means to one standard deviation of the narrowest peak. */
const meansPerSigma = 6;
const fewestMeans = 20;
/** [-] Part of the signal that no curve is expected to follow: shapes are only nearly those of a formula. */
export const looseness = { usual: 0.003, tight: 0.0005 } as const;
/** [standard uncertainties] Of the baseline, within which a fit may move it. */
export const slackOfBaseline = 2;
/** [-] Most that correlation between means is taken to add to their noise; more looks like what crowds do. */
const mostCorrelation = 1.5;
/** More rows than means: the expectations a fit adds. */
const spareRows = 64;

/**
 * Takes the means of a window. Their length leaves six to a standard deviation of
 * the narrowest peak, which costs a Gaussian 0.1 % of its height and nothing of its area.
 *
 * @param noiseOf - [signal unit] Noise of a mean at a time over a length of time.
 * @param blind - Stretches that say nothing, such as those where the detector was at its limit.
 * @param earlier - Curves of peaks before the window, whose tail the signal stands on.
 * @returns Nothing when there are fewer than eight samples.
 */
export function takeFitWindow(
  trace: Trace,
  baseline: Baseline,
  from: number,
  to: number,
  narrowest: number,
  highest: number,
  noiseOf: (time: number, length: number) => number,
  blind: readonly { readonly from: number; readonly to: number }[],
  earlier: readonly Curve[],
): FitWindow | undefined {
  const first = firstAtOrAfter(trace.time, from);
  const samples = firstAtOrAfter(trace.time, to) - first;
  if (samples < 8) return undefined;
  const spacing = (trace.time[first + samples - 1]! - trace.time[first]!) / (samples - 1);
  const block = Math.max(
    1,
    Math.min(Math.floor(narrowest / spacing / meansPerSigma), Math.floor(samples / fewestMeans)),
  );
  const count = Math.floor(samples / block);
  const time = new Float64Array(count + spareRows);
  const value = new Float64Array(count);
  for (let k = 0, i = first; k < count; k++) {
    let t = 0;
    let y = 0;
    for (let b = 0; b < block; b++, i++) {
      t += trace.time[i]! - from;
      y += trace.signal[i]!;
    }
    time[k] = from + t / block;
    value[k] = y / block - baselineAt(baseline, time[k]!);
  }
  const tail = new Float64Array(count);
  for (const curve of earlier) addCurve(curve, time, count, tail);
  for (let k = 0; k < count; k++) value[k]! -= tail[k]!;
  const middle = (time[0]! + time[count - 1]!) / 2;
  const length = block * spacing;
  const own = noiseOf(middle, length);
  // Noise that is correlated over several means counts as what it leaves in their mean.
  const noise = Math.max(own, Math.min(2 * noiseOf(middle, 4 * length), mostCorrelation * own), 2e-5 * highest);
  /** Noise that wanders would otherwise speak for every shape that follows it. */
  const colourOf = (means: number): number => {
    const ratio = noiseOf(middle, means * length) / noise;
    return Math.max(1, means * ratio * ratio);
  };
  const slack = Math.max(slackOfBaseline * baselineUncertaintyAt(baseline, middle), 1e-3 * noise);
  const weight = weightsOf(value, noise, looseness.usual);
  for (const { from: a, to: b } of blind) {
    const margin = block * spacing;
    for (let k = 0; k < count; k++) if (time[k]! > a - margin && time[k]! < b + margin) weight[k] = 0;
  }
  const reaches = tail.some((y) => Math.abs(y) > 0.1 * noise);
  return {
    time,
    value,
    count,
    weight,
    noise,
    colour: colourOf(8),
    slowColour: colourOf(32),
    slack,
    middle,
    tail: reaches ? tail : undefined,
    half: (time[count - 1]! - time[0]!) / 2,
  };
}

/** The window with curves that have to follow the signal more closely. */
export function tightened(window: FitWindow): FitWindow {
  const weight = weightsOf(window.value, window.noise, looseness.tight);
  for (let k = 0; k < window.count; k++) if (window.weight[k] === 0) weight[k] = 0;
  return { ...window, weight };
}

function weightsOf(value: Float64Array, noise: number, loose: number): Float64Array {
  return value.map((y) => 1 / Math.sqrt(noise * noise + loose * loose * y * y));
}
