import { defined } from '../core/index.js';
import type { Calibration } from './calibration.js';
import type { PredictionSettings } from './predict-amount.js';
import type { PredictedQuantity } from './prediction.js';
import type { ReadBack } from './straight-line.js';
import { deriveAmountUnit } from './units.js';

/** A value read back times `factor`, with its two intervals. */
export function createQuantity(
  of: PredictedQuantity['of'],
  unit: string,
  read: Pick<ReadBack, 'value' | 'standardUncertainty' | 'fieller'>,
  factor: number,
  t: number,
  method: 'Fieller' | 'delta',
): PredictedQuantity {
  const value = read.value * factor;
  const standardUncertainty = read.standardUncertainty * factor;
  const half = t * standardUncertainty;
  const { fieller } = read;
  const intervals = defined({
    delta: { from: value - half, to: value + half, method: 'delta' } as const,
    Fieller: fieller && ({ from: fieller[0] * factor, to: fieller[1] * factor, method: 'Fieller' } as const),
  });
  return defined({
    of,
    value,
    unit,
    standardUncertainty,
    interval: intervals[method],
    intervals,
  });
}

/** [amount unit per concentration unit] What the volume injected holds of a solution. */
export function amountPerConcentration(caller: string, units: Calibration['units'], volume: number): number {
  if (units.concentration === undefined) return volume;
  return volume * deriveAmountUnit(caller, units.concentration, units.volume, units.amount).factor;
}

/** Amount, concentration, dilution, sample, as far as known: the reading times ever further factors. */
export function followQuantities(
  caller: string,
  { quantity, units }: Calibration,
  { volume, dilution, sample, interval }: PredictionSettings,
  read: ReadBack,
  t: number,
): PredictedQuantity[] {
  const chain: PredictedQuantity[] = [];
  let unit = units.amount;
  let factor = 1;
  const add = (of: PredictedQuantity['of']): void => {
    chain.push(createQuantity(of, unit, read, factor, t, interval));
  };
  if (quantity === 'amount injected') {
    add('amount');
    if (volume === undefined) return chain;
    unit = units.concentration ?? `${unit}/${units.volume}`;
    factor = 1 / amountPerConcentration(caller, units, volume);
  }
  add('concentration');
  if (dilution !== undefined) {
    factor *= dilution;
    add('undiluted');
  }
  if (sample !== undefined) {
    const solution = deriveAmountUnit(caller, unit, sample.solutionVolumeUnit);
    unit = `${solution.amount}/${sample.unit}`;
    factor *= (sample.solutionVolume * solution.factor) / sample.quantity;
    add('content');
  }
  return chain;
}
