export type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
export type { BridgedStretch, Decision, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
export { integrate, type Integration } from './integrate.js';
export { planIntegration, type PlanOptions } from './plan-integration.js';
export { areaBetween } from './area-between.js';
export { findValley, type Valley } from './valley.js';
