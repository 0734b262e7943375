import { failOption } from '../core/index.js';
import type { Calibration } from './calibration.js';
import type { PredictionOptions } from './predict-amount.js';

const preparationNames = ['purity', 'weighing', 'glassware', 'preparation', 'recovery'];

/** Refuses options that are no usable numbers or do not go with the calibration. */
export function checkPredictionOptions(caller: string, options: PredictionOptions, calibration: Calibration): void {
  const { volume, intercept, dilution, sample, confidence, interval, preparation } = options;
  const positive = (field: string, value: number | undefined): void => {
    if (value !== undefined && !(Number.isFinite(value) && value > 0))
      failOption(caller, field, 'a number above 0', value);
  };
  positive('volume', volume);
  positive('dilution', dilution);
  if (confidence !== undefined && !(confidence > 0 && confidence < 1)) {
    failOption(caller, 'confidence', 'between 0 and 1', confidence);
  }
  if (interval !== 'Fieller' && interval !== 'delta') failOption(caller, 'interval', "'Fieller' or 'delta'", interval);
  const perConcentration = calibration.quantity === 'concentration';
  if (perConcentration && volume !== undefined) {
    failOption(caller, 'volume', 'left out, because the calibration is against concentration at one volume', volume);
  }
  if (intercept !== 'background' && intercept !== 'injected volume') {
    failOption(caller, 'intercept', "'background' or 'injected volume'", intercept);
  }
  if (intercept === 'injected volume' && (calibration.volumeOffset === undefined || volume === undefined)) {
    const expected =
      "'background', because 'injected volume' needs a standard injected at several volumes and the option volume";
    failOption(caller, 'intercept', expected, intercept);
  }
  const concentrationKnown = perConcentration || volume !== undefined;
  if (dilution !== undefined && !concentrationKnown) {
    failOption(caller, 'dilution', 'given together with volume, from which the concentration follows', dilution);
  }
  if (sample !== undefined) {
    if (!concentrationKnown) {
      failOption(caller, 'sample', 'given together with volume, from which the concentration follows', sample);
    }
    positive('sample.solutionVolume', sample.solutionVolume);
    positive('sample.quantity', sample.quantity);
    for (const field of ['unit', 'solutionVolumeUnit'] as const) {
      const value: unknown = sample[field];
      if (typeof value !== 'string' || value === '') failOption(caller, `sample.${field}`, 'a unit', value);
    }
  }
  for (const [name, value] of Object.entries(preparation ?? {}) as [string, unknown][]) {
    if (!preparationNames.includes(name)) {
      failOption(caller, `preparation.${name}`, `one of ${preparationNames.join(', ')}`, value);
    }
    if (value !== undefined && !(typeof value === 'number' && Number.isFinite(value) && value >= 0)) {
      failOption(caller, `preparation.${name}`, 'a percentage, 0 or more', value);
    }
  }
}
