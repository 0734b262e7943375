export type { Baseline } from './baseline.js';
export { baselineAt, baselineUncertaintyAt } from './baseline-value.js';
export type { Interval } from './block-means.js';
export { fitBaseline, type FittedBaseline } from './fit-baseline.js';
export { estimateBaseline, type ArplsOptions, type BaselineOptions, type KnotsOptions } from './estimate-baseline.js';
export { arpls, type ArplsFit } from './arpls.js';
