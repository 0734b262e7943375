export type { Candidate, RejectedCandidate } from './candidate.js';
export type { Expectations } from './expectations.js';
export { findPeaks, type FoundPeaks } from './find-peaks.js';
export type { FindPeaksOptions } from './find-peaks-options.js';
export type { SetApart } from './set-apart.js';
export { surveyRun, type SurveyedRun } from './survey-run.js';
export { ownMaximum } from './shoulders.js';
export { alarmsOf, chanceOf, type Chance } from './false-alarms.js';
