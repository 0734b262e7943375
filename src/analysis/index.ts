export type { Analysis, Peak } from './analysis.js';
export { defineMethod, type Method, type Settings } from './method.js';
export { pinMethod } from './pin-method.js';
export { pinDivision, type DivisionDeparture, type PinnedDivision } from './pin-division.js';
export { analyse } from './analyse.js';
export { identifyComponents, identifyPeaks, type Component, type NameablePeak } from './components.js';
export { hashTrace } from './provenance.js';
export type { HiddenArea } from './rules-of-run.js';
