export type { Candidate, RejectedCandidate } from './candidate.js';
export { findPeaks, type FindPeaksOptions, type FoundPeaks } from './find-peaks.js';
export type { SetApart } from './set-apart.js';
