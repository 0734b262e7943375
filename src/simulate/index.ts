export type { BaselineRecipe, HumpRecipe, RampRecipe } from './baseline-recipe.js';
export type {
  BubbleRecipe,
  BumpRecipe,
  DisturbanceRecipe,
  SpikeRecipe,
  StepRecipe,
  VoidRecipe,
} from './disturbance-recipe.js';
export type { TrueDisturbance } from './disturbance-signal.js';
export type { NoiseRecipe } from './noise-recipe.js';
export type { PeakRecipe, PeakShapeName } from './peak-recipe.js';
export { createRandom, type Random } from './random.js';
export type { SaturationRecipe, TraceRecipe } from './recipe.js';
export type { SamplingRecipe } from './sampling-recipe.js';
export { simulateTrace } from './simulate-trace.js';
export type { TraceTruth, TruePeak } from './truth.js';
export type { PeakRecovery, RecoveredPeak, Recovery, RecoveryLimit, RecoveryOptions } from './recovery.js';
export { testRecovery } from './test-recovery.js';
