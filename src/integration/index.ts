export type { AreaTransfer, IntegratedPeak, IntegratedRegion } from './integrated-peak.js';
export type {
  AreaUncertaintyParts,
  BridgedStretch,
  Decision,
  Divider,
  FittedCurve,
  HiddenPeak,
  IntegrationPlan,
  LimitKind,
  PlannedPeak,
  PlannedRegion,
} from './plan.js';
export { straighten } from './straighten.js';
export { integrate, type Integration } from './integrate.js';
export { planIntegration, type PlanOptions } from './plan-integration.js';
export { drawCurve } from './draw-curve.js';
export { fitRegions, type NoiseOfMean } from './fit-regions.js';
export type { CurveKind } from './curve-kinds.js';
export { areaBetween } from './area-between.js';
export { findValley, type Valley } from './valley.js';
export { applyRules, groupPeaks, obeyRules } from './apply-rules.js';
export { checkRules } from './check-rules.js';
export { ruleBaseline } from './rule-baseline.js';
export {
  covers,
  nameRule,
  type DivideByRule,
  type DownwardRule,
  type ExpectedWidthRule,
  type FixedLevelRule,
  type LeastRule,
  type NoPeaksRule,
  type OnlyWithinRule,
  type PassThroughRule,
  type Rule,
  type RuleSpan,
  type SplitRule,
  type TogetherRule,
} from './rule.js';
export { dividers } from './plan.js';
export {
  checkPolicy,
  standardDivisionPolicy,
  type DivisionPolicy,
  type DivisionTriggers,
  type TriggerRange,
} from './division-policy.js';
export { divisionBias, type DivisionBias } from './division-bias.js';
export { withoutRiders } from './without-riders.js';
export { sideBySide, type ChainedPeak } from './chain.js';
export {
  divisionSpread,
  type DivisionSpread,
  type DivisionSpreadOptions,
  type DivisionWay,
  type SpreadBaseline,
} from './division-spread.js';
