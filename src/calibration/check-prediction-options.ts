import { resolveOptions } from '../core/index.js';
import type { Calibration } from './calibration.js';
import { checkChoice, checkConfidence, checkOption } from './check-options.js';
import type { PredictionSample, PredictionSettings } from './predict-amount.js';
import type { PreparationUncertainties } from './prediction.js';

const noSample: PredictionSample = { solutionVolume: 0, solutionVolumeUnit: '', quantity: 0, unit: '' };

const noPreparation: Required<PreparationUncertainties> = {
  purity: 0,
  weighing: 0,
  glassware: 0,
  preparation: 0,
  recovery: 0,
};

/** Refuses options that are no usable numbers or do not go with the calibration. */
export function checkPredictionOptions(caller: string, options: PredictionSettings, calibration: Calibration): void {
  const { volume, dilution, confidence, interval, intercept, sample, preparation = {} } = options;
  const perConcentration = calibration.quantity === 'concentration';
  const check = (field: string, value: unknown, inOrder: boolean, expected: string): void => {
    if (value !== undefined) checkOption(caller, field, value, inOrder, expected);
  };
  const checkPositive = (field: string, value: number | undefined): void => {
    check(field, value, Number.isFinite(value) && value! > 0, 'a number above 0');
  };
  checkPositive('volume', volume);
  checkPositive('dilution', dilution);
  checkConfidence(caller, confidence ?? calibration.confidence);
  checkChoice(caller, 'interval', interval, ['Fieller', 'delta']);
  checkChoice(caller, 'intercept', intercept, ['background', 'injected volume']);
  check('volume', volume, !perConcentration, 'left out for a calibration against concentration');
  check(
    'intercept',
    intercept,
    intercept === 'background' || (calibration.volumeOffset !== undefined && volume !== undefined),
    "'background' unless the calibration has a volumeOffset and the option volume is given",
  );
  for (const [field, value] of Object.entries({ dilution, sample })) {
    check(field, value, perConcentration || volume !== undefined, 'given together with volume');
  }
  if (sample !== undefined) {
    const { solutionVolume, quantity, unit } = resolveOptions(`${caller}, sample`, noSample, sample);
    checkPositive('sample.solutionVolume', solutionVolume);
    checkPositive('sample.quantity', quantity);
    check('sample.unit', unit, unit !== '', 'a unit');
  }
  for (const [part, value] of Object.entries(resolveOptions(`${caller}, preparation`, noPreparation, preparation))) {
    check(`preparation.${part}`, value, Number.isFinite(value) && value >= 0, 'a percentage, 0 or more');
  }
}
