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
  const delta = { from: value - half, to: value + half, method: 'delta' } as const;
  const Fieller = read.fieller && {
    from: read.fieller[0] * factor,
    to: read.fieller[1] * factor,
    method: 'Fieller' as const,
  };
  const intervals = defined({ delta, Fieller });
  return defined({
    of,
    value,
    unit,
    standardUncertainty,
    relativeStandardUncertainty: value === 0 ? undefined : (100 * standardUncertainty) / Math.abs(value),
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
  const perConcentration = quantity === 'concentration';
  const amount = perConcentration ? undefined : make('amount injected', units.amount, 1);
  if (!perConcentration && volume === undefined) return defined({ amount });
  const unit = perConcentration ? units.amount : (units.concentration ?? `${units.amount}/${units.volume}`);
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
