import { describe, failOption, PeakwrightError, resolveOptions } from '../core/index.js';
import type { Trace } from './trace.js';
import { parseSignalUnit, signalUnits, type SignalUnit } from './units.js';

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
 *   kinds and no fitting scale was stated; `unit-missing` when `unit` is empty;
 *   `option-invalid` when the scale is not a finite number above 0, or a factor
 *   contradicts a power of ten.
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
  if (typeof unit !== 'string' || unit.trim() === '') {
    throw new PeakwrightError(
      'unit-missing',
      `${caller}: the unit wanted is ${describe(unit)}; pass for example 'mAU'.`,
      {
        field: 'unit',
        value: unit,
      },
    );
  }
  const { scale } = resolveOptions<{ scale: SignalScale | undefined }>(caller, { scale: undefined }, options);
  const { voltPerAbsorbance, factor } = checkScale(caller, scale);
  const wanted = parseSignalUnit(unit) ?? unit.trim();
  if (wanted === trace.signalUnit) return trace;
  const from = signalUnits[trace.signalUnit as SignalUnit];
  const to = signalUnits[wanted as SignalUnit];
  const known = from !== undefined && to !== undefined;
  if (known && from.kind === to.kind) {
    if (factor !== undefined) {
      failOption(
        caller,
        'scale.factor',
        `absent between ${trace.signalUnit} and ${wanted}, which differ by a power of ten`,
        factor,
      );
    }
    return withSignal(trace, wanted, powerOfTen(to.below - from.below));
  }
  if (known && voltPerAbsorbance !== undefined) {
    const power = powerOfTen(to.below - from.below);
    const convert =
      to.kind === 'voltage' ? (y: number) => power(y * voltPerAbsorbance) : (y: number) => power(y / voltPerAbsorbance);
    return withSignal(trace, wanted, convert, `${voltPerAbsorbance} V/AU`);
  }
  if (!known && factor !== undefined) {
    return withSignal(trace, wanted, (y) => y * factor, `${factor} ${wanted} per ${trace.signalUnit}`);
  }
  const advice = known ? 'scale: { voltPerAbsorbance: 1 } (in V/AU, as the detector is set)' : 'scale: { factor: ... }';
  throw new PeakwrightError(
    'unit-mismatch',
    `${caller}: ${trace.signalUnit} becomes ${wanted} only by a scale that must be stated; pass ${advice}.`,
    { field: 'unit', value: wanted, expected: advice },
  );
}

function checkScale(caller: string, scale: SignalScale | undefined): { voltPerAbsorbance?: number; factor?: number } {
  if (scale === undefined) return {};
  const given = resolveOptions<{ voltPerAbsorbance: number | undefined; factor: number | undefined }>(
    `${caller}: scale`,
    { voltPerAbsorbance: undefined, factor: undefined },
    scale,
  );
  const result: { voltPerAbsorbance?: number; factor?: number } = {};
  for (const field of ['voltPerAbsorbance', 'factor'] as const) {
    const value = given[field];
    if (value === undefined) continue;
    if (!Number.isFinite(value) || value <= 0) failOption(caller, `scale.${field}`, 'a number above 0', value);
    result[field] = value;
  }
  return result;
}

/** Multiplies by 10 to the power, dividing for a negative one, so that it is rounded once. */
function powerOfTen(power: number): (y: number) => number {
  let ten = 1;
  for (let i = 0; i < Math.abs(power); i++) ten *= 10;
  return power >= 0 ? (y) => y * ten : (y) => y / ten;
}

function withSignal(trace: Trace, unit: string, convert: (y: number) => number, stated?: string): Trace {
  const signal = trace.signal.map(convert);
  const wrong = signal.findIndex((y) => !Number.isFinite(y));
  if (wrong >= 0) {
    throw new PeakwrightError(
      'trace-invalid',
      `convertSignal: signal[${wrong}] = ${trace.signal[wrong]!} ${trace.signalUnit} is too large to be given in ${unit}.`,
      {
        index: wrong,
        field: 'signal',
        value: trace.signal[wrong]!,
      },
    );
  }
  const warnings =
    stated === undefined
      ? trace.warnings
      : [
          ...trace.warnings,
          {
            code: 'signal-converted-by-stated-scale',
            message: `The signal was turned from ${trace.signalUnit} into ${unit} with the stated scale of ${stated}.`,
          },
        ];
  return { ...trace, signal, signalUnit: unit, warnings };
}
