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

/** What follows from a reading, step by step. */
export interface Chain {
  readonly amount?: PredictedQuantity;
  readonly concentration?: PredictedQuantity;
  readonly undiluted?: PredictedQuantity;
  readonly content?: PredictedQuantity;
}

/** Amount, concentration, dilution, sample: the reading times ever further factors. */
export function followQuantities(
  caller: string,
  { quantity, units }: Calibration,
  { volume, dilution, sample, interval }: PredictionSettings,
  read: ReadBack,
  t: number,
): Chain {
  const make = (of: PredictedQuantity['of'], unit: string, factor: number): PredictedQuantity =>
    createQuantity(of, unit, read, factor, t, interval);
  const isAmount = quantity === 'amount injected';
  const amount = isAmount ? make(quantity, units.amount, 1) : undefined;
  if (isAmount && volume === undefined) return defined({ amount });
  const unit = isAmount ? (units.concentration ?? `${units.amount}/${units.volume}`) : units.amount;
  const factor = volume === undefined ? 1 : 1 / amountPerConcentration(caller, units, volume);
  const undiluted = factor * (dilution ?? 1);
  const solution = sample && deriveAmountUnit(caller, unit, sample.solutionVolumeUnit);
  return defined({
    amount,
    concentration: make('concentration of the injected solution', unit, factor),
    undiluted: dilution === undefined ? undefined : make('concentration before dilution', unit, undiluted),
    content:
      solution &&
      make(
        'content of the sample',
        `${solution.amount}/${sample.unit}`,
        (undiluted * sample.solutionVolume * solution.factor) / sample.quantity,
      ),
  });
}
