export { errorCodes, isPeakwrightError, PeakwrightError, type ErrorCode, type ErrorDetails, type Warning } from './core/index.js';
export {
  convertSignal,
  createTrace,
  cropTrace,
  parseSignalUnit,
  parseTimeUnit,
  resampleTrace,
  splitAtInjections,
  subtractBlank,
  type BackwardTimes,
  type BlankSubtraction,
  type ConvertSignalOptions,
  type CropOptions,
  type DuplicateTimes,
  type Gap,
  type GivenMeta,
  type KnownUnit,
  type ResampleOptions,
  type SignalScale,
  type SignalUnit,
  type SplitOptions,
  type SubtractBlankOptions,
  type TimeUnit,
  type Trace,
  type TraceDescription,
  type TraceInput,
  type TraceMeta,
  type UnitProvenance,
} from './trace/index.js';
export type { Baseline } from './baseline/index.js';
export type { Disturbance, Noise } from './signal/index.js';
export type { Candidate, RejectedCandidate } from './peaks/index.js';
export type { Decision, IntegratedPeak, IntegratedRegion, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './integration/index.js';
export type { PeakMeasures, PeakMoments, PeakPlates, PeakResolution, PeakWidths, SignalToNoise } from './measures/index.js';
export { analyse, type Analysis, type Method, type Peak, type Settings } from './analysis/index.js';
export { emg, emgAreaBefore, emgFromApex, emgHeight, emgMode, gaussian, gaussianArea, gaussianAreaBefore, type EmgShape, type GaussianShape } from './shapes/index.js';
export { simulateTrace, type BaselineRecipe, type BumpRecipe, type NoiseRecipe, type PeakRecipe, type TraceRecipe, type TraceTruth, type TruePeak } from './simulate/index.js';
export { parseFile, parseTrace, type Diagnostic, type FileLine, type FileOptions, type ParsedFile, type TextEncoding, type TextReading } from './formats/index.js';
export { smooth, type SavitzkyGolayOptions, type SmoothOptions } from './signal/index.js';
export {
  fitCalibration,
  predictAmount,
  type BudgetEntry,
  type Calibration,
  type CalibrationOptions,
  type CalibrationPoint,
  type DeterminedPrediction,
  type FittedParameter,
  type FittedPoint,
  type PredictedQuantity,
  type Prediction,
  type PredictionBasis,
  type PredictionInterval,
  type PredictionOptions,
  type PreparationUncertainties,
  type UndeterminedPrediction,
  type VolumeOffset,
} from './calibration/index.js';
