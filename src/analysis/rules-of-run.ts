import type { Warning } from '../core/index.js';
import {
  covers,
  groupPeaks,
  integrate,
  nameRule,
  ruleBaseline,
  type IntegratedPeak,
  type IntegrationPlan,
  type LeastRule,
  type Rule,
} from '../integration/index.js';
import type { Expectations, RejectedCandidate, SurveyedRun } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';
import type { Peak } from './analysis.js';

/**
 * What one exclusion hides, integrated in the background.
 *
 * @public
 */
export interface HiddenArea {
  /** [-] Which rule, counted from 1. */
  readonly rule: number;
  /** Its reason. */
  readonly reason: string;
  /** [signal unit s] Sum of the areas of the peaks, and parts of peaks, that it hides. */
  readonly area: number;
  /** Each of them. */
  readonly peaks: readonly IntegratedPeak[];
}

/** What has to be known before anything is looked at; nothing without such rules. */
export function expectationsOf(rules: readonly Rule[]): Expectations | undefined {
  const downward = rules.filter((rule) => rule.kind === 'downward peaks expected');
  const widths = rules.filter((rule) => rule.kind === 'expected width');
  return downward.length + widths.length > 0 ? { downward, widths } : undefined;
}

/** What was found, on the baseline that the rules leave. */
export function onRuledBaseline(trace: Trace, found: SurveyedRun, rules: readonly Rule[]): SurveyedRun {
  const baseline = ruleBaseline(trace, found.baseline, rules);
  return baseline === found.baseline ? found : { ...found, baseline };
}

/** Rules that leave the limits and the baseline of a region as they are. */
const harmless: readonly Rule['kind'][] = [
  'downward peaks expected',
  'expected width',
  'least height',
  'least area',
  'least signal-to-noise',
];

/** Whether a rule says something about a region or the room beside it: then no fit moves its limits. */
export function settledByRule(rules: readonly Rule[]): (region: { start: number; end: number }) => boolean {
  const binding = rules.filter(({ kind }) => !harmless.includes(kind));
  return ({ start, end }) => {
    const room = (end - start) / 2;
    return binding.some(({ kind, from, to }) =>
      kind === 'integrate only within'
        ? start - room < from || end + room > to
        : start - room < to && end + room > from,
    );
  };
}

/** Everything that the exclusions of a plan hide, one entry for each rule. */
export function integrateHidden(trace: Trace, plan: IntegrationPlan): HiddenArea[] {
  const { baselines, bridged = [], hidden = [] } = plan;
  const regions = hidden.map((peak) => ({ start: peak.start, end: peak.end, peaks: [peak] }));
  const { peaks } = integrate(trace, { baselines, regions, bridged });
  const numbers = [...new Set(hidden.map(({ rule }) => rule))].sort((a, b) => a - b);
  return numbers.map((rule) => {
    const own = peaks.filter((_, i) => hidden[i]!.rule === rule);
    const { reason } = hidden.find((each) => each.rule === rule)!;
    return { rule, reason, area: own.reduce((sum, { area }) => sum + area, 0), peaks: own };
  });
}

/** The value of a peak that a rule about the least looks at; nothing when it is not known. */
const valueOf: Readonly<Record<LeastRule['kind'], (peak: Peak) => number | undefined>> = {
  'least height': ({ height }) => Math.abs(height),
  'least area': ({ area }) => Math.abs(area),
  'least signal-to-noise': ({ signalToNoise }) => signalToNoise?.value,
};

/** The peaks that have less than a rule demands, each with the record of the first rule it fails. */
export function failingPeaks(peaks: readonly Peak[], rules: readonly Rule[]): Map<string, RejectedCandidate> {
  const failing = new Map<string, RejectedCandidate>();
  rules.forEach((rule, i) => {
    if (!('least' in rule)) return;
    for (const peak of peaks) {
      const { id, retentionTime: at, height } = peak;
      const value = valueOf[rule.kind](peak);
      if (!covers(rule, at) || value === undefined || value >= rule.least || failing.has(id)) continue;
      const what = rule.kind.replace('least ', '');
      const text = `Its ${what} is ${value.toPrecision(4)}, below the ${rule.least} of ${nameRule(rules, i)}; its area was ${peak.area.toPrecision(4)}.`;
      failing.set(id, { at, height, test: rule.kind, value, limit: rule.least, text });
    }
  });
  return failing;
}

/** A plan without some of its peaks; the others keep their limits. What rode on one that goes rides on what carried that. */
export function withoutPeaks(plan: IntegrationPlan, ids: { has(id: string): boolean }): IntegrationPlan {
  const all = plan.regions.flatMap(({ peaks }) => peaks);
  const kept = (id: string | undefined): string | undefined =>
    id === undefined || !ids.has(id) ? id : kept(all.find((p) => p.id === id)?.rides);
  const left = all
    .filter(({ id }) => !ids.has(id))
    .map((peak) => {
      if (peak.rides === undefined || !ids.has(peak.rides)) return peak;
      const { rides, ...rest } = peak;
      const carrier = kept(rides);
      return carrier === undefined ? rest : { ...rest, rides: carrier };
    });
  const needed = new Set([...left, ...(plan.apart ?? []), ...(plan.hidden ?? [])].map(({ baseline }) => baseline));
  return {
    ...plan,
    baselines: plan.baselines.filter(({ id }, i) => i === 0 || needed.has(id)),
    regions: groupPeaks(left),
  };
}

/** A warning for every rule that found nothing to do. */
export function idleWarnings(rules: readonly Rule[], idle: readonly number[]): Warning[] {
  return idle.map((i) => ({
    code: 'rule-without-effect',
    message: `Nothing was found for ${nameRule(rules, i)} to change.`,
    at: rules[i]!.from,
  }));
}
