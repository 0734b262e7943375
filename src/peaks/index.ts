export type { Candidate, RejectedCandidate } from './candidate.js';
