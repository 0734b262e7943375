import { checkNumber, defined, fail, resolveOptions, type Warning } from '../core/index.js';
import { differenceNoise } from '../numeric/index.js';
import { gapsFrom, timesInside, valuesOutside } from './gaps.js';
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
    const message = `the trace is in ${unit}, the blank in ${blank.signalUnit}; bring both to one unit with convertSignal.`;
    fail(caller, 'unit-mismatch', message, { field: 'blank', value: blank.signalUnit, expected: unit });
  }
  const moved = trace.time.map((t) => t - shift);
  const bare = timesInside(moved, [
    { from: -Infinity, to: blank.time[0]! },
    ...blank.gaps,
    { from: blank.time.at(-1)!, to: Infinity },
  ]);
  const time = valuesOutside(trace.time, bare);
  checkEnough(caller, trace, 'blank', time.length, `lie where the blank, moved by ${shift} min, has data`);
  const signal = valuesOutside(trace.signal, bare);
  const share = takeOff(signal, blank, valuesOutside(moved, bare));
  const uncovered = bare.map(([first, end]) => ({
    from: trace.time[Math.max(0, first - 1)]!,
    to: trace.time[Math.min(end, trace.time.length - 1)]!,
  }));

  const noiseOfBlank = differenceNoise(blank.signal);
  const addedNoise = noiseOfBlank === undefined ? undefined : noiseOfBlank * Math.sqrt(share);
  const ratio = (addedNoise ?? Infinity) / (differenceNoise(trace.signal) ?? 0);
  const noiseFactor = ratio < Infinity ? Math.sqrt(1 + ratio * ratio) : undefined;
  const [added, factor] = [addedNoise, noiseFactor].map((value) => value?.toPrecision(3) ?? 'not known');
  const warnings: Warning[] = [
    ...trace.warnings,
    {
      code: 'blank-subtracted',
      message: `The blank was subtracted, moved by ${shift} min. Noise added [${unit}]: ${added!}; noise after over before: ${factor!}.`,
    },
    ...uncovered.map(({ from, to }) => ({
      code: 'blank-not-covering',
      message: `The blank has no data from ${from} to ${to} min; samples there were left out.`,
      at: from,
    })),
  ];
  const [origin, other] = [trace.meta.timeOrigin, blank.meta.timeOrigin];
  if (origin !== other) {
    const message = `Time counts from the ${origin} in the trace, but from the ${other} in the blank.`;
    warnings.push({ code: 'blank-time-origin', message });
  }
  const gaps = gapsFrom(
    time,
    [...trace.gaps, ...uncovered].map(({ from }) => from),
  );
  return { trace: { ...trace, time, signal, gaps, warnings }, ...defined({ addedNoise, noiseFactor }), uncovered };
}

/** Takes the blank at these times off the signal, in place; returns the part of its variance that comes in. */
function takeOff(signal: Float64Array, { time, signal: under }: Trace, at: Float64Array): number {
  let left = 0;
  let variance = 0;
  at.forEach((t, i) => {
    while (left < time.length - 2 && time[left + 1]! < t) left++;
    const part = (t - time[left]!) / (time[left + 1]! - time[left]!);
    variance += part * part + (1 - part) * (1 - part);
    signal[i]! -= under[left]! * (1 - part) + under[left + 1]! * part;
  });
  return variance / at.length;
}
