export type { Candidate, RejectedCandidate } from './candidate.js';
export { findPeaks, type FoundPeaks } from './find-peaks.js';
