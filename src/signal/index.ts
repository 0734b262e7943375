export type { Disturbance } from './disturbance.js';
export type { Noise } from './noise.js';
export { layDecisionGrid, type DecisionGrid } from './decision-grid.js';
export { buildPyramid, centreOf, indexAt, type Pyramid } from './pyramid.js';
export { noiseAt, scanNoise, type ScaleNoise } from './scale-noise.js';
export { bridgeSpikes, type Spike } from './spikes.js';
export { smooth, type SmoothOptions } from './smooth.js';
export type { SavitzkyGolayOptions } from './smooth-savitzky-golay.js';
export { findEdges, type Edge } from './edges.js';
