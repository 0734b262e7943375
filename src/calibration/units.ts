import { describe, PeakwrightError } from '../core/index.js';

/** Powers of ten of the prefixes; the empty one is the unit itself. */
const prefixes: Readonly<Record<string, number>> = { k: 3, '': 0, d: -1, c: -2, m: -3, µ: -6, n: -9, p: -12, f: -15 };

interface ScaledUnit {
  /** Grams or moles; litres for a volume. */
  readonly base: 'g' | 'mol' | 'L';
  /** [-] Power of ten over the base unit. */
  readonly power: number;
}

/** How amounts, concentrations and volumes of one calibration hang together. */
export interface AmountUnits {
  /** Unit of amounts, for example `'ng'`. */
  readonly amount: string;
  /** [amount unit per (concentration unit x volume unit)] A power of ten. */
  readonly factor: number;
}

/**
 * The unit of concentration times volume, mg/L x µL = ng, and the factor to it;
 * with `wanted` the factor to that unit.
 *
 * @throws {@link PeakwrightError} `unit-unknown`, or `unit-mismatch` when a
 *   mass is wanted and the concentration counts moles, or the other way round.
 */
export function deriveAmountUnit(caller: string, concentration: string, volume: string, wanted?: string): AmountUnits {
  const c = parseConcentration(caller, concentration);
  const v = parseVolume(caller, volume);
  const power = c.power + v.power;
  if (wanted !== undefined) {
    const target = parseAmount(caller, wanted);
    if (target.base !== c.base) {
      throw new PeakwrightError(
        'unit-mismatch',
        `${caller}: concentrations in ${concentration} do not give amounts in ${wanted} without a molar mass; state both by mass or both in moles.`,
        { field: 'amountUnit', value: wanted, expected: `a unit of ${c.base === 'g' ? 'mass' : 'moles'}` },
      );
    }
    return { amount: wanted, factor: powerOfTen(power - target.power) };
  }
  for (const [prefix, own] of Object.entries(prefixes)) {
    if (own === power && own % 3 === 0) return { amount: prefix + c.base, factor: 1 };
  }
  // no prefix fits exactly (g/dL, or beyond femto): the nearest thousand below it
  const lower = Object.entries(prefixes).find(([, own]) => own % 3 === 0 && own <= power) ?? ['f', -15];
  return { amount: lower[0] + c.base, factor: powerOfTen(power - lower[1]) };
}

function parseConcentration(caller: string, unit: string): ScaledUnit {
  const [amount, volume, ...rest] = normalise(unit).split('/');
  if (volume === undefined) {
    const molar = withPrefix(amount!, 'M');
    if (molar !== undefined) return { base: 'mol', power: molar };
  } else if (rest.length === 0) {
    const litres = withPrefix(volume, 'L');
    for (const base of ['mol', 'g'] as const) {
      const power = withPrefix(amount!, base);
      if (power !== undefined && litres !== undefined) return { base, power: power - litres };
    }
  }
  return failUnit(caller, 'concentrationUnit', unit, "a mass or moles per volume such as 'mg/L', 'µg/mL' or 'mmol/L'");
}

function parseAmount(caller: string, unit: string): ScaledUnit {
  for (const base of ['mol', 'g'] as const) {
    const power = withPrefix(normalise(unit), base);
    if (power !== undefined) return { base, power };
  }
  return failUnit(caller, 'amountUnit', unit, "a mass or moles such as 'ng' or 'nmol'");
}

function parseVolume(caller: string, unit: string): ScaledUnit {
  const power = withPrefix(normalise(unit), 'L');
  if (power !== undefined) return { base: 'L', power };
  return failUnit(caller, 'volumeUnit', unit, "a volume such as 'µL' or 'mL'");
}

/** The power of ten of `text` when it is a prefix before `base`. */
function withPrefix(text: string, base: string): number | undefined {
  if (!text.endsWith(base)) return undefined;
  const prefix = text.slice(0, text.length - base.length);
  return Object.hasOwn(prefixes, prefix) ? prefixes[prefix] : undefined;
}

/** One spelling: micro as µ (also written u or with the Greek letter), litre as L, no blanks. */
function normalise(unit: string): string {
  return unit
    .replaceAll(/\s/g, '')
    .replaceAll('\u03bc', 'µ')
    .replace(/(^|\/)(\D?)l$/, '$1$2L')
    .replaceAll(/(^|\/)u(?=[gmLM])/g, '$1µ');
}

/** Exact powers, by parsing: the power operator is not the same on every engine. */
function powerOfTen(power: number): number {
  return Number(`1e${power}`);
}

function failUnit(caller: string, field: string, unit: string, expected: string): never {
  throw new PeakwrightError('unit-unknown', `${caller}: ${field} ${describe(unit)} is not known; state ${expected}.`, {
    field,
    value: unit,
    expected,
  });
}
