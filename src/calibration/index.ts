export type { CalibrationPoint } from './calibration-point.js';
export type { Calibration, FittedParameter, FittedPoint, VolumeOffset } from './calibration.js';
export { fitCalibration, type CalibrationOptions } from './fit-calibration.js';
export { predictAmount, type PredictionOptions, type PredictionSample } from './predict-amount.js';
export type {
  BudgetEntry,
  DeterminedPrediction,
  PredictedQuantity,
  Prediction,
  PredictionBasis,
  PredictionInterval,
  PreparationUncertainties,
  UndeterminedPrediction,
} from './prediction.js';
export {
  sharedDeviations,
  type InjectionDeviation,
  type SharedDeviations,
  type SharedDeviationsOptions,
} from './shared-deviations.js';
