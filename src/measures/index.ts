export {
  areaPercents,
  platesFoleyDorsey,
  platesHalfHeight,
  platesMoments,
  platesTangent,
  resolutionHalfHeight,
  resolutionTangent,
} from './formulas.js';
export { measurePeak, type MeasureOptions } from './measure-peak.js';
export { measureMoments, type Moments } from './moments.js';
export type {
  PeakMeasures,
  PeakMoments,
  PeakPlates,
  PeakResolution,
  PeakWidths,
  SignalToNoise,
} from './peak-measures.js';
