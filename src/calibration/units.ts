import { describe, PeakwrightError } from '../core/index.js';

/** Powers of ten of the prefixes, micro in three spellings; no prefix is the unit itself. */
const powers: Readonly<Record<string, number>> = {
  k: 3,
  '': 0,
  d: -1,
  c: -2,
  m: -3,
  µ: -6,
  '\u03bc': -6,
  u: -6,
  n: -9,
  p: -12,
  f: -15,
};

/** Prefixes for units of ours, a thousand apart, from 1e-15 on. */
const thousands = ['f', 'p', 'n', 'µ', 'm', '', 'k'];

const patterns = {
  concentration: /^(.?)(mol|g)\/(.?)[lL]$/,
  amount: /^(.?)(mol|g)$/,
  volume: /^(.?)([lL])$/,
};

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
  const { base, power: perVolume } = parse(caller, 'concentration', concentration);
  const power = perVolume + parse(caller, 'volume', volume).power;
  if (wanted === undefined) {
    // where no prefix fits exactly (g/dL, or beyond femto): the nearest thousand below it
    const place = Math.min(Math.max(0, Math.floor(power / 3) + 5), thousands.length - 1);
    return { amount: thousands[place]! + base, factor: powerOfTen(power - 3 * (place - 5)) };
  }
  const target = parse(caller, 'amount', wanted);
  if (target.base !== base) {
    throw new PeakwrightError(
      'unit-mismatch',
      `${caller}: ${concentration} does not give ${wanted} without a molar mass; state both in g or both in mol.`,
      { field: 'amountUnit', value: wanted },
    );
  }
  return { amount: wanted, factor: powerOfTen(power - target.power) };
}

/** Grams, moles or litres and the power of ten over them. */
function parse(caller: string, kind: keyof typeof patterns, unit: string): { base: string; power: number } {
  const match = patterns[kind].exec(unit.replaceAll(/\s/g, '').replace(/M$/, 'mol/L'));
  const [, prefix = '?', base = '', divisor = ''] = match ?? [];
  const power = (powers[prefix] ?? NaN) - (powers[divisor] ?? NaN);
  if (Number.isNaN(power)) {
    throw new PeakwrightError(
      'unit-unknown',
      `${caller}: ${kind}Unit ${describe(unit)} is not known; state one such as mg/L, mmol/L, ng, nmol, µL.`,
      { field: `${kind}Unit`, value: unit },
    );
  }
  return { base, power };
}

/** Exact powers, by parsing: the power operator is not the same on every engine. */
function powerOfTen(power: number): number {
  return Number(`1e${power}`);
}
