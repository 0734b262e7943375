export type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
export type { BridgedStretch, Decision, FittedCurve, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
export { integrate, type Integration } from './integrate.js';
export { planIntegration, type PlanOptions } from './plan-integration.js';
export { fitRegions, type NoiseOfMean } from './fit-regions.js';
export type { CurveKind } from './curve-kinds.js';
export { areaBetween } from './area-between.js';
export { findValley, type Valley } from './valley.js';
