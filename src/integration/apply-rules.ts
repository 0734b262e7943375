import { defined } from '../core/index.js';
import type { Trace } from '../trace/index.js';
import { checkRules } from './check-rules.js';
import { sideBySide } from './chain.js';
import { divideBy, layDividers } from './divide-by.js';
import { exclude } from './exclude.js';
import { keepTogether } from './keep-together.js';
import type { Decision, IntegrationPlan, PlannedPeak, PlannedRegion } from './plan.js';
import type { PlanDraft } from './plan-draft.js';
import { covers, exclusionsOf, nameRule, type Rule } from './rule.js';
import { splitAt } from './split-at.js';

/**
 * Applies rules by time to a plan, in order. Limits, dividers and exclusions are changed, and every peak concerned gets a
 * decision that says so. Rules about the baseline, about what to expect and about the least of a peak are left to
 * {@link analyse}: of those only the decisions are written.
 *
 * What an exclusion hides goes to `hidden`, with the limits it has as a peak, so that it can be integrated in the background.
 * Regions run from the first limit of a group that touches to its last.
 *
 * @param trace - The record.
 * @param plan - Any plan; read, never changed. Its first baseline is that of the run.
 * @param rules - See {@link Rule}.
 * @returns A plan; the same one when there are no rules.
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown` for a rule that is not whole, `rules-contradict` for
 *   two that cannot both hold.
 *
 * @example
 * ```ts
 * const { trace } = simulateTrace({
 *   duration: 10,
 *   interval: 0.2,
 *   peaks: [{ shape: 'gaussian', retentionTime: 2, height: 50, sigma: 0.05 }],
 *   noise: { white: 0.01 },
 *   seed: 1,
 * });
 * const reason = 'solvent';
 * const plan = applyRules(trace, analyse(trace).plan, [{ kind: 'no peaks within', from: 0, to: 3, reason }]);
 * plan.regions.length; // => 0
 * plan.hidden[0].reason; // => 'solvent'
 * ```
 *
 * @public
 */
export function applyRules(trace: Trace, plan: IntegrationPlan, rules: readonly Rule[]): IntegrationPlan {
  checkRules('applyRules', rules);
  return obeyRules(trace, plan, rules).plan;
}

/** The plan under rules that were checked, and which of them found nothing to do. */
export function obeyRules(
  trace: Trace,
  plan: IntegrationPlan,
  rules: readonly Rule[],
): { readonly plan: IntegrationPlan; readonly idle: readonly number[] } {
  if (rules.length === 0) return { plan, idle: [] };
  const start: PlanDraft = {
    trace,
    run: plan.baselines[0]!,
    peaks: [
      ...sideBySide(
        plan.regions.flatMap(({ peaks }) => peaks),
        plan.baselines,
      ),
    ].sort((a, b) => a.start - b.start),
    apart: plan.apart ?? [],
    hidden: plan.hidden ?? [],
  };
  const excluded = exclusionsOf(rules);
  const idle: number[] = [];
  let draft = start;
  rules.forEach((rule, i) => {
    const name = nameRule(rules, i);
    const before = draft;
    switch (rule.kind) {
      case 'no peaks within':
      case 'integrate only within':
        draft = exclude(
          draft,
          excluded.filter((e) => e.rule === i),
          rule,
          i,
          name,
        );
        break;
      case 'keep together':
        draft = keepTogether(draft, rule, name);
        break;
      case 'split at':
        draft = splitAt(draft, rule, name);
        break;
      case 'divide by':
        draft = divideBy(draft, rule, name);
        break;
      case 'least height':
      case 'least area':
      case 'least signal-to-noise':
        return;
      case 'downward peaks expected':
      case 'expected width':
      case 'fix the baseline level':
      case 'baseline must pass through':
        draft = note(draft, rule, name);
    }
    // Of several stretches that are integrated the first speaks for all.
    const spoken = rule.kind !== 'integrate only within' || rules.findIndex((r) => r.kind === rule.kind) === i;
    if (draft === before && spoken) idle.push(i);
  });
  if (draft === start) return { plan, idle };
  const { baselines, peaks } = layDividers(draft, plan.baselines);
  const { apart, hidden } = draft;
  return {
    plan: defined({
      ...plan,
      baselines,
      regions: groupPeaks(peaks),
      apart: apart.length > 0 ? apart : undefined,
      hidden: hidden.length > 0 ? hidden : undefined,
    }),
    idle,
  };
}

/** Puts peaks that touch into one region, with those that ride on them. */
export function groupPeaks(peaks: readonly PlannedPeak[]): PlannedRegion[] {
  const groups: { start: number; end: number; peaks: PlannedPeak[] }[] = [];
  for (const peak of [...peaks].sort((a, b) => a.start - b.start || b.end - a.end)) {
    const { start, end } = peak;
    const group = groups.at(-1);
    if (group && start <= group.end && peak.startKind !== 'baseline') {
      group.peaks.push(peak);
      group.end = Math.max(group.end, end);
    } else groups.push({ start, end, peaks: [peak] });
  }
  for (const group of groups) if (group.peaks.some((p) => p.rides)) group.peaks.sort((a, b) => a.apex - b.apex);
  return groups;
}

/** Writes on the peaks concerned what a rule has done before the limits were decided. */
function note(draft: PlanDraft, rule: Rule, name: string): PlanDraft {
  let noted = false;
  const peaks = draft.peaks.map((peak) => {
    const decision = noteOn(peak, rule, name);
    if (decision === undefined) return peak;
    noted = true;
    return { ...peak, decisions: [...peak.decisions, decision] };
  });
  return noted ? { ...draft, peaks } : draft;
}

function noteOn({ apex, start, end, direction }: PlannedPeak, rule: Rule, name: string): Decision | undefined {
  const decision = (about: string, text: string): Decision => ({ about, rule: rule.kind, at: apex, text });
  if (rule.kind === 'fix the baseline level' || rule.kind === 'baseline must pass through') {
    const how = rule.kind === 'fix the baseline level' ? 'level' : `bent to ${rule.at} min`;
    return rule.from < end && rule.to > start ? decision('baseline', `The baseline is ${how} by ${name}.`) : undefined;
  }
  if (!covers(rule, apex)) return undefined;
  if (rule.kind === 'downward peaks expected') {
    return direction === 'down' ? decision('peak', `A dip is a peak here by ${name}.`) : undefined;
  }
  return rule.kind === 'expected width' ? decision('peak', `As wide as ${name} expects.`) : undefined;
}
