import { checkFields, checkPositive, fail, optional, resolveOptions } from '../core/index.js';
import { isUsable } from './read-samples.js';
import { statedSignalUnit } from './resolve-units.js';
import type { Trace } from './trace.js';
import { perBase } from './units.js';

/**
 * How much of one kind of signal is how much of another; stated, never guessed.
 *
 * @public
 */
export type SignalScale =
  | {
      /** [V/AU] Output of the detector for one absorbance unit; 1 is usual, 2, 0.1 and others exist. */
      readonly voltPerAbsorbance: number;
    }
  | {
      /** [new unit/old unit] Factor between the two units, for units that are neither absorbance nor voltage. */
      readonly factor: number;
    };

/**
 * Options of {@link convertSignal}.
 *
 * @public
 */
export interface ConvertSignalOptions {
  /**
   * Scale between two kinds of signal; not needed, and not used, between units
   * of absorbance or between units of voltage.
   *
   * @defaultValue none
   */
  readonly scale?: SignalScale | undefined;
}

/**
 * Gives the signal in another unit. Between AU, mAU and µAU, and between V, mV
 * and µV, by the exact power of ten; between absorbance and voltage only with
 * a stated scale, and the result then carries a warning that says which; from
 * or to any other unit only with a stated factor.
 *
 * @param trace - The trace; read, never changed.
 * @param unit - The unit wanted, in any spelling {@link parseSignalUnit} reads, or another together with a factor.
 * @param options - The scale; see {@link ConvertSignalOptions}.
 *
 * @returns A trace on the same time axis; `meta.signalUnit` goes on saying what the source had.
 *
 * @throws {@link PeakwrightError} `unit-mismatch` when the units are of different
 *   kinds and no fitting scale was stated, or a factor was although a power of
 *   ten is between them; `unit-missing` when `unit` is empty; `option-invalid`
 *   when the scale is not a finite number above 0; `trace-invalid` when readings
 *   beyond 1e100 would result.
 *
 * @example
 * ```ts
 * const trace = createTrace({ time: [0, 1], signal: [1.5, 2], timeUnit: 'min', signalUnit: 'mAU' });
 * Array.from(convertSignal(trace, 'µAU').signal); // => [1500, 2000]
 * Array.from(convertSignal(trace, 'µV', { scale: { voltPerAbsorbance: 2 } }).signal); // => [3000, 4000]
 * ```
 *
 * @public
 */
export function convertSignal(trace: Trace, unit: string, options: ConvertSignalOptions = {}): Trace {
  const caller = 'convertSignal';
  const wanted = statedSignalUnit(caller, 'unit', unit);
  const { scale } = resolveOptions<{ scale: SignalScale | undefined }>(caller, { scale: undefined }, options);
  const given: { readonly voltPerAbsorbance?: number; readonly factor?: number } = scale ?? {};
  const check = optional(checkPositive);
  checkFields(caller, { voltPerAbsorbance: check, factor: check }, given, 'scale.');
  const from = trace.signalUnit;
  if (wanted === from) return trace;

  const [old, now] = [perBase[from], perBase[wanted]];
  const known = old !== undefined && now !== undefined;
  const toVolt = wanted.endsWith('V');
  const sameKind = known && toVolt === from.endsWith('V');
  const field = known ? 'voltPerAbsorbance' : 'factor';
  // A factor beside a power of ten could only contradict it.
  const size = !sameKind ? given[field] : given.factor === undefined ? 1 : undefined;
  if (size === undefined) {
    const expected = sameKind ? 'no factor' : `scale: { ${field}: ... }`;
    const how = sameKind ? 'a power of ten' : 'a scale that must be stated';
    const message = `${from} becomes ${wanted} by ${how}; pass ${expected}.`;
    fail(caller, 'unit-mismatch', message, { field: 'scale', value: wanted, expected });
  }
  // One of the two is 1, so that a power of ten is rounded once.
  const [times, over] = known ? [Math.max(1, now / old), Math.max(1, old / now)] : [1, 1];
  const signal = trace.signal.map((y) => ((known && !toVolt ? y / size : y * size) * times) / over);
  if (!signal.every(isUsable)) {
    fail(caller, 'trace-invalid', `readings beyond 1e100 ${wanted} would result.`, { field: 'signal' });
  }
  const warnings = [...trace.warnings];
  if (!sameKind) {
    const message = `The signal was turned from ${from} into ${wanted} with the stated scale, ${field}: ${size}.`;
    warnings.push({ code: 'signal-converted-by-stated-scale', message });
  }
  return { ...trace, signal, signalUnit: wanted, warnings };
}
