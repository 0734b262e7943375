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
export { measureResolution, type ResolvedPeak } from './measure-resolution.js';
export { measureMoments, type Moments } from './moments.js';
export { peakToValley, type PeakToValley } from './peak-to-valley.js';
export type {
  PeakMeasures,
  PeakMoments,
  PeakPlates,
  PeakResolution,
  PeakWidths,
  SignalToNoise,
} from './peak-measures.js';
export { measureSignalToNoise, signalToNoiseBetween, type SignalToNoiseOptions } from './signal-to-noise.js';
