import { failOption } from '../core/index.js';
import type { Calibration } from './calibration.js';
import type { PredictionSettings } from './predict-amount.js';

const preparationNames = ['purity', 'weighing', 'glassware', 'preparation', 'recovery'];

/** Refuses options that are no usable numbers or do not go with the calibration. */
export function checkPredictionOptions(caller: string, options: PredictionSettings, calibration: Calibration): void {
  const { volume, dilution, confidence, interval } = options;
  failUnlessPositive(caller, 'volume', volume);
  failUnlessPositive(caller, 'dilution', dilution);
  if (confidence !== undefined && !(confidence > 0 && confidence < 1)) {
    failOption(caller, 'confidence', 'between 0 and 1', confidence);
  }
  if (interval !== 'Fieller' && interval !== 'delta') failOption(caller, 'interval', "'Fieller' or 'delta'", interval);
  const perConcentration = calibration.quantity === 'concentration';
  if (perConcentration && volume !== undefined) {
    failOption(caller, 'volume', 'left out, because the calibration is against concentration at one volume', volume);
  }
  checkIntercept(caller, options, calibration);
  checkSample(caller, options, perConcentration || volume !== undefined);
  checkPreparation(caller, options.preparation ?? {});
}

function checkIntercept(caller: string, { intercept, volume }: PredictionSettings, calibration: Calibration): void {
  if (intercept === 'background') return;
  if (intercept !== 'injected volume') failOption(caller, 'intercept', "'background' or 'injected volume'", intercept);
  if (calibration.volumeOffset !== undefined && volume !== undefined) return;
  const expected =
    "'background', because 'injected volume' needs a standard injected at several volumes and the option volume";
  failOption(caller, 'intercept', expected, intercept);
}

function checkSample(caller: string, { dilution, sample }: PredictionSettings, concentrationKnown: boolean): void {
  const together = 'given together with volume, from which the concentration follows';
  if (dilution !== undefined && !concentrationKnown) failOption(caller, 'dilution', together, dilution);
  if (sample === undefined) return;
  if (!concentrationKnown) failOption(caller, 'sample', together, sample);
  failUnlessPositive(caller, 'sample.solutionVolume', sample.solutionVolume);
  failUnlessPositive(caller, 'sample.quantity', sample.quantity);
  for (const field of ['unit', 'solutionVolumeUnit'] as const) {
    const value: unknown = sample[field];
    if (typeof value !== 'string' || value === '') failOption(caller, `sample.${field}`, 'a unit', value);
  }
}

function checkPreparation(caller: string, preparation: object): void {
  for (const [name, value] of Object.entries(preparation) as [string, unknown][]) {
    if (!preparationNames.includes(name)) {
      failOption(caller, `preparation.${name}`, `one of ${preparationNames.join(', ')}`, value);
    }
    if (value !== undefined && !(typeof value === 'number' && Number.isFinite(value) && value >= 0)) {
      failOption(caller, `preparation.${name}`, 'a percentage, 0 or more', value);
    }
  }
}

function failUnlessPositive(caller: string, field: string, value: number | undefined): void {
  if (value === undefined || (Number.isFinite(value) && value > 0)) return;
  failOption(caller, field, 'a number above 0', value);
}
