export { errorCodes, isPeakwrightError, PeakwrightError, type ErrorCode, type ErrorDetails, type Warning } from './core/index.js';
export {
  createTrace,
  parseSignalUnit,
  parseTimeUnit,
  type BackwardTimes,
  type DuplicateTimes,
  type Gap,
  type GivenMeta,
  type KnownUnit,
  type SignalUnit,
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
export type { Analysis, Method, Peak, Settings } from './analysis/index.js';
export { emg, emgAreaBefore, emgFromApex, emgHeight, emgMode, gaussian, gaussianArea, gaussianAreaBefore, type EmgShape, type GaussianShape } from './shapes/index.js';
export { simulateTrace, type BaselineRecipe, type BumpRecipe, type NoiseRecipe, type PeakRecipe, type TraceRecipe, type TraceTruth, type TruePeak } from './simulate/index.js';
export { parseFile, parseTrace, type Diagnostic, type FileLine, type FileOptions, type ParsedFile, type TextEncoding, type TextReading } from './formats/index.js';
