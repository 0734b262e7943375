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
export type { InjectionDeviation, SharedDeviations } from './injection-deviation.js';
export { sharedDeviations, type SharedDeviationsOptions } from './shared-deviations.js';
export { collectResponses, type CollectedResponses } from './collect-responses.js';
export {
  collectPoints,
  type CollectedPoints,
  type CollectPointsOptions,
  type StandardInjection,
} from './collect-points.js';
