export type { Analysis, Peak } from './analysis.js';
export type { Method, Settings } from './method.js';
export { analyse } from './analyse.js';
export { identifyComponents, identifyPeaks, type Component } from './components.js';
