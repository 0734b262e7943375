import type { Calibration } from './calibration.js';
import type { PredictionSettings } from './predict-amount.js';
import type { PredictedQuantity, PredictionInterval } from './prediction.js';
import type { ReadBack } from './straight-line.js';
import { deriveAmountUnit } from './units.js';

/** A value read back, with its two intervals, in the unit it is wanted in. */
export function createQuantity(
  of: PredictedQuantity['of'],
  unit: string,
  read: ReadBack,
  factor: number,
  t: number,
  method: 'Fieller' | 'delta',
): PredictedQuantity {
  const standardUncertainty = Math.sqrt(read.varianceOfResponses + read.varianceOfLine) * factor;
  const value = read.value * factor;
  const half = t * standardUncertainty;
  const delta: PredictionInterval = { from: value - half, to: value + half, method: 'delta' };
  const fieller: PredictionInterval | undefined =
    read.fieller === undefined
      ? undefined
      : { from: read.fieller[0] * factor, to: read.fieller[1] * factor, method: 'Fieller' };
  const interval = method === 'delta' ? delta : fieller;
  return {
    of,
    value,
    unit,
    standardUncertainty,
    ...(value === 0 ? {} : { relativeStandardUncertainty: (100 * standardUncertainty) / Math.abs(value) }),
    ...(interval === undefined ? {} : { interval }),
    intervals: { delta, ...(fieller === undefined ? {} : { Fieller: fieller }) },
  };
}

/** What follows from a calibration, step by step. */
export interface Chain {
  amount?: PredictedQuantity;
  concentration?: PredictedQuantity;
  undiluted?: PredictedQuantity;
  content?: PredictedQuantity;
}

/** Amount, concentration, dilution, sample: each the one before times a factor. */
export function followQuantities(
  caller: string,
  calibration: Calibration,
  { volume, dilution, sample }: PredictionSettings,
  start: PredictedQuantity,
): Chain {
  const { units } = calibration;
  const chain: Chain = {};
  if (start.of === 'amount injected') {
    chain.amount = start;
    if (volume !== undefined) {
      const unit = units.concentration ?? `${units.amount}/${units.volume}`;
      const factor =
        units.concentration === undefined ? 1 : deriveAmountUnit(caller, unit, units.volume, units.amount).factor;
      chain.concentration = rescale(start, 'concentration of the injected solution', unit, 1 / (volume * factor));
    }
  } else {
    chain.concentration = start;
    if (calibration.quantity === 'amount injected' && volume !== undefined) {
      const { factor } = deriveAmountUnit(caller, start.unit, units.volume, units.amount);
      chain.amount = rescale(start, 'amount injected', units.amount, volume * factor);
    }
  }
  if (chain.concentration !== undefined && dilution !== undefined) {
    chain.undiluted = rescale(chain.concentration, 'concentration before dilution', chain.concentration.unit, dilution);
  }
  const solution = chain.undiluted ?? chain.concentration;
  if (solution !== undefined && sample !== undefined) {
    const { amount, factor } = deriveAmountUnit(caller, solution.unit, sample.solutionVolumeUnit);
    const perSample = (sample.solutionVolume * factor) / sample.quantity;
    chain.content = rescale(solution, 'content of the sample', `${amount}/${sample.unit}`, perSample);
  }
  return chain;
}

function rescale(
  from: PredictedQuantity,
  of: PredictedQuantity['of'],
  unit: string,
  factor: number,
): PredictedQuantity {
  const scaled = ({ from: low, to, method }: PredictionInterval): PredictionInterval => ({
    from: low * factor,
    to: to * factor,
    method,
  });
  return {
    ...from,
    of,
    unit,
    value: from.value * factor,
    standardUncertainty: from.standardUncertainty * factor,
    ...(from.interval === undefined ? {} : { interval: scaled(from.interval) }),
    intervals: {
      delta: scaled(from.intervals.delta),
      ...(from.intervals.Fieller === undefined ? {} : { Fieller: scaled(from.intervals.Fieller) }),
    },
  };
}
