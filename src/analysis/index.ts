export type { Analysis, Peak } from './analysis.js';
export { defineMethod, type Method, type Settings } from './method.js';
export { pinMethod } from './pin-method.js';
export { analyse, type AnalyseOptions } from './analyse.js';
export type { HoldUpTime } from './hold-up-time.js';
export { lowerBoundOf } from './lower-bound.js';
export { identifyComponents, identifyPeaks, type Component, type NameablePeak } from './components.js';
export { hashTrace } from './provenance.js';
export type { HiddenArea } from './rules-of-run.js';
