export type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
export type { Decision, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
export { integrate, type Integration } from './integrate.js';
export { planIntegration } from './plan-integration.js';
