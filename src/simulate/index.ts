export { createRandom, type Random } from './random.js';
export type { BaselineRecipe, BumpRecipe, NoiseRecipe, PeakRecipe, TraceRecipe } from './recipe.js';
export { simulateTrace, type TraceTruth, type TruePeak } from './simulate-trace.js';
