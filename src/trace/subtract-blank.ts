import { checkNumber, defined, fail, resolveOptions, type Warning } from '../core/index.js';
import { differenceNoise } from '../numeric/index.js';
import { gapsFrom } from './gaps.js';
import { checkEnough } from './stretches.js';
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
  checkNumber(caller, 'shift', shift);
  const unit = trace.signalUnit;
  if (unit !== blank.signalUnit) {
    fail(
      caller,
      'unit-mismatch',
      `the trace is in ${unit}, the blank in ${blank.signalUnit}; bring both to one unit with convertSignal.`,
      { field: 'blank', value: blank.signalUnit, expected: unit },
    );
  }
  const { time, signal, uncovered, share } = difference(trace, blank, shift);
  checkEnough(caller, trace, 'blank', time.length, `lie where the blank, moved by ${shift} min, has data`);
  const noiseOfBlank = differenceNoise(blank.signal);
  const addedNoise = noiseOfBlank === undefined ? undefined : noiseOfBlank * Math.sqrt(share);
  const ratio = (addedNoise ?? Infinity) / (differenceNoise(trace.signal) ?? 0);
  const noiseFactor = ratio < Infinity ? Math.sqrt(1 + ratio * ratio) : undefined;
  const { name } = blank.meta;
  const rounded = (value: number | undefined): string => value?.toPrecision(3) ?? 'not known';
  const warnings: Warning[] = [
    ...trace.warnings,
    {
      code: 'blank-subtracted',
      message: `The blank${name === undefined ? '' : ` ${name}`} was subtracted, moved by ${shift} min. Noise added [${unit}]: ${rounded(addedNoise)}; noise after over before: ${rounded(noiseFactor)}.`,
    },
    ...uncovered.map(({ from, to }) => ({
      code: 'blank-not-covering',
      message: `The blank has no data from ${from} to ${to} min; samples there were left out.`,
      at: from,
    })),
  ];
  const [origin, other] = [trace.meta.timeOrigin, blank.meta.timeOrigin];
  if (origin !== other) {
    warnings.push({
      code: 'blank-time-origin',
      message: `Time counts from the ${origin} in the trace, but from the ${other} in the blank.`,
    });
  }
  const gaps = gapsFrom(
    time,
    [...trace.gaps, ...uncovered].map(({ from }) => from),
  );
  return { trace: { ...trace, time, signal, gaps, warnings }, ...defined({ addedNoise, noiseFactor }), uncovered };
}

/** The samples the blank covers, less the blank; where it does not; and how much of its variance they see. */
function difference(
  trace: Trace,
  blank: Trace,
  shift: number,
): { time: Float64Array; signal: Float64Array; uncovered: Gap[]; share: number } {
  const { time, signal } = trace;
  const { time: at, signal: under } = blank;
  const last = at.length - 1;
  const holes = [...blank.gaps, { from: at[last]!, to: Infinity }];
  const times = new Float64Array(time.length);
  const signals = new Float64Array(time.length);
  const uncovered: Gap[] = [];
  let count = 0;
  let hole = 0;
  let left = 0;
  let variance = 0;
  let covered = -1;
  for (let i = 0; i < time.length; i++) {
    const t = time[i]! - shift;
    while (holes[hole]!.to <= t) hole++;
    if (t < at[0]! || t > holes[hole]!.from) continue;
    if (i > covered + 1) uncovered.push({ from: time[Math.max(0, covered)]!, to: time[i]! });
    covered = i;
    while (left < last - 1 && at[left + 1]! < t) left++;
    const part = (t - at[left]!) / (at[left + 1]! - at[left]!);
    variance += part * part + (1 - part) * (1 - part);
    times[count] = time[i]!;
    signals[count++] = signal[i]! - (under[left]! * (1 - part) + under[left + 1]! * part);
  }
  if (covered < time.length - 1) uncovered.push({ from: time[Math.max(0, covered)]!, to: time.at(-1)! });
  return { time: times.slice(0, count), signal: signals.slice(0, count), uncovered, share: variance / count };
}
