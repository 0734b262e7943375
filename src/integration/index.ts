export type { IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
export type { Decision, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
