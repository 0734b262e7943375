import { failOption, PeakwrightError, resolveOptions, type Warning } from '../core/index.js';
import { differenceNoise, interpolateLinear } from '../numeric/index.js';
import { gapsAfter } from './gaps.js';
import { stretchesOf } from './stretches.js';
import type { Gap, Trace } from './trace.js';

/**
 * Options of {@link subtractBlank}.
 *
 * @public
 */
export interface SubtractBlankOptions {
  /**
   * [min] The blank is moved later by this before it is taken off.
   *
   * @defaultValue 0
   */
  readonly shift?: number | undefined;
}

/**
 * A trace with a blank taken off, and what that cost.
 *
 * @public
 */
export interface BlankSubtraction {
  /** The difference, where the blank has data. */
  readonly trace: Trace;
  /**
   * [signal unit] Short-term standard deviation of the noise the blank brings
   * in; absent when the blank has too few samples to tell.
   */
  readonly addedNoise?: number;
  /**
   * [-] Short-term noise of the difference over that of the trace before; absent
   * when either is not known or the trace has none.
   */
  readonly noiseFactor?: number;
  /** Stretches of the trace where the blank has no data; their samples were left out. */
  readonly uncovered: readonly Gap[];
}

const defaults: { readonly shift: number } = { shift: 0 };

/**
 * Takes a blank off a trace, at the times of the trace, reading the blank on
 * straight lines between its samples. Nothing else does this: no analysis
 * subtracts a blank unless this was called.
 *
 * Noise is not subtracted but added: that of the blank, lowered by the reading
 * between its samples, joins that of the trace as the root of the sum of
 * squares. Both are estimated from second differences (white noise; correlated
 * noise comes out too low).
 *
 * Where the blank, moved by `shift`, has no data (before its start, after its
 * end, inside its gaps), the difference is not known: those samples are left
 * out, a stretch in the middle becomes a gap, and a warning says where.
 *
 * @param trace - The trace; read, never changed.
 * @param blank - The blank, in the same unit, on any time axis.
 * @param options - See {@link SubtractBlankOptions}.
 *
 * @returns The difference and the noise it gained.
 *
 * @throws {@link PeakwrightError} `unit-mismatch` when the units differ;
 *   `option-invalid` when the shift is not finite; `trace-too-short` when the
 *   blank covers fewer than 2 samples of the trace.
 *
 * @example
 * ```ts
 * const units = { timeUnit: 'min', signalUnit: 'mAU' };
 * const trace = createTrace({ time: [0, 1, 2], signal: [5, 6, 7], ...units });
 * const blank = createTrace({ time: [0, 2], signal: [1, 3], ...units });
 * Array.from(subtractBlank(trace, blank).trace.signal); // => [4, 4, 4]
 * ```
 *
 * @public
 */
export function subtractBlank(trace: Trace, blank: Trace, options: SubtractBlankOptions = {}): BlankSubtraction {
  const caller = 'subtractBlank';
  const { shift } = resolveOptions(caller, defaults, options);
  if (!Number.isFinite(shift)) failOption(caller, 'shift', 'a finite number of minutes', shift);
  if (trace.signalUnit !== blank.signalUnit) {
    throw new PeakwrightError(
      'unit-mismatch',
      `${caller}: the trace is in ${trace.signalUnit}, the blank in ${blank.signalUnit}; bring both to one unit with convertSignal first.`,
      { field: 'blank', value: blank.signalUnit, expected: trace.signalUnit },
    );
  }
  const covered = coverage(trace.time, blank, shift);
  const { kept, targets } = covered;
  if (kept.length < 2) {
    throw new PeakwrightError(
      'trace-too-short',
      `${caller}: the blank has data at ${kept.length} of the ${trace.time.length} samples of the trace. It runs from ${blank.time[0]! + shift} to ${blank.time[blank.time.length - 1]! + shift} min after the shift, the trace from ${trace.time[0]!} to ${trace.time[trace.time.length - 1]!} min.`,
      { field: 'blank', value: kept.length, expected: 'at least 2 samples' },
    );
  }
  const under = interpolateLinear(blank.time, blank.signal, targets);
  const time = Float64Array.from(kept, (i) => trace.time[i]!);
  const signal = Float64Array.from(kept, (i, k) => trace.signal[i]! - under[k]!);
  const noise = noiseGained(trace, blank, covered.weight);
  const uncovered = uncoveredStretches(trace.time, kept);
  const gaps = gapsAfter(time, seams(trace, kept));
  return {
    trace: {
      ...trace,
      time,
      signal,
      gaps,
      warnings: [...trace.warnings, ...warnOf(trace, blank, shift, noise, uncovered)],
    },
    ...noise,
    uncovered,
  };
}

/** Which samples of the trace the blank covers, where they fall on its axis, and how much of its variance they see. */
function coverage(
  time: Float64Array,
  blank: Trace,
  shift: number,
): { kept: Int32Array; targets: Float64Array; weight: number } {
  const kept = new Int32Array(time.length);
  const targets = new Float64Array(time.length);
  const gaps = blank.gaps;
  const last = blank.time.length - 1;
  let count = 0;
  let left = 0;
  let gap = 0;
  let variance = 0;
  for (let i = 0; i < time.length; i++) {
    const t = time[i]! - shift;
    while (gap < gaps.length && gaps[gap]!.to <= t) gap++;
    if (t < blank.time[0]! || t > blank.time[last]! || (gap < gaps.length && t > gaps[gap]!.from)) continue;
    while (left < last - 1 && blank.time[left + 1]! < t) left++;
    const part = (t - blank.time[left]!) / (blank.time[left + 1]! - blank.time[left]!);
    variance += part * part + (1 - part) * (1 - part);
    kept[count] = i;
    targets[count++] = t;
  }
  return { kept: kept.slice(0, count), targets: targets.slice(0, count), weight: variance / count };
}

function noiseGained(trace: Trace, blank: Trace, weight: number): { addedNoise?: number; noiseFactor?: number } {
  const ofBlank = differenceNoise(blank.signal);
  if (ofBlank === undefined) return {};
  const addedNoise = ofBlank * Math.sqrt(weight);
  const own = differenceNoise(trace.signal);
  if (own === undefined || own === 0) return { addedNoise };
  const ratio = addedNoise / own;
  return { addedNoise, noiseFactor: Math.sqrt(1 + ratio * ratio) };
}

/** Runs of samples that were not kept, from the last kept (or first of all) to the next kept (or last of all). */
function uncoveredStretches(time: Float64Array, kept: Int32Array): Gap[] {
  const found: Gap[] = [];
  const first = kept[0]!;
  const last = kept[kept.length - 1]!;
  if (first > 0) found.push({ from: time[0]!, to: time[first]! });
  for (let k = 1; k < kept.length; k++) {
    if (kept[k]! - kept[k - 1]! > 1) found.push({ from: time[kept[k - 1]!]!, to: time[kept[k]!]! });
  }
  if (last < time.length - 1) found.push({ from: time[last]!, to: time[time.length - 1]! });
  return found;
}

/** Indices among the kept samples after which samples are missing: gaps of the trace, and what the blank does not cover. */
function seams(trace: Trace, kept: Int32Array): number[] {
  const ends = new Set(stretchesOf(trace).map(({ to }) => to));
  const found: number[] = [];
  for (let k = 0; k < kept.length - 1; k++) {
    if (kept[k + 1]! - kept[k]! > 1 || ends.has(kept[k]!)) found.push(k);
  }
  return found;
}

function warnOf(
  trace: Trace,
  blank: Trace,
  shift: number,
  noise: { addedNoise?: number; noiseFactor?: number },
  uncovered: readonly Gap[],
): Warning[] {
  const name = blank.meta.name === undefined ? 'A blank' : `The blank ${blank.meta.name}`;
  const moved = shift === 0 ? '' : `, moved by ${shift} min,`;
  const added =
    noise.addedNoise === undefined
      ? 'it is too short to tell how much noise it adds'
      : `it adds noise of ${noise.addedNoise.toPrecision(3)} ${trace.signalUnit}`;
  const factor =
    noise.noiseFactor === undefined
      ? ''
      : `, which makes that of the trace ${noise.noiseFactor.toPrecision(3)} times as large`;
  const warnings: Warning[] = [
    { code: 'blank-subtracted', message: `${name}${moved} was subtracted; ${added}${factor}.` },
  ];
  for (const { from, to } of uncovered) {
    warnings.push({
      code: 'blank-not-covering',
      message: `The blank has no data from ${from} to ${to} min; the samples between were left out.`,
      at: from,
    });
  }
  if (trace.meta.timeOrigin !== blank.meta.timeOrigin) {
    warnings.push({
      code: 'blank-time-origin',
      message: `Time counts from the ${trace.meta.timeOrigin} in the trace and from the ${blank.meta.timeOrigin} in the blank; the two may not belong together.`,
    });
  }
  return warnings;
}
