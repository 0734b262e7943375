export type {
  PeakMeasures,
  PeakMoments,
  PeakPlates,
  PeakResolution,
  PeakWidths,
  SignalToNoise,
} from './peak-measures.js';
