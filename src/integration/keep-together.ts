import type { PlannedPeak } from './plan.js';
import { heightAt, type PlanDraft } from './plan-draft.js';
import { covers, type TogetherRule } from './rule.js';

/** Makes one peak of those whose apexes lie in the stretch: the highest, from the start of the first to the end of the last. */
export function keepTogether(draft: PlanDraft, rule: TogetherRule, name: string): PlanDraft {
  const within = (peak: PlannedPeak): boolean => covers(rule, peak.apex);
  const peaks = draft.peaks.filter(within);
  const members = [...peaks, ...draft.apart.filter(within)].sort((a, b) => a.start - b.start);
  const first = members[0];
  if (first === undefined || peaks.length === 0 || members.length < 2) return draft;
  const last = members.reduce((a, b) => (b.end > a.end ? b : a));
  const main = peaks.reduce((a, b) => (heightAt(draft, b.apex) > heightAt(draft, a.apex) ? b : a));
  const about = (peak: PlannedPeak, what: string) => peak.decisions.filter((d) => d.about === what);
  const places = members.map(({ apex }) => apex.toFixed(3)).join(', ');
  const one: PlannedPeak = {
    ...main,
    start: first.start,
    startKind: first.startKind,
    end: last.end,
    endKind: last.endKind,
    baseline: draft.run.id,
    decisions: [
      ...main.decisions.filter((d) => d.about !== 'start' && d.about !== 'end'),
      ...about(first, 'start'),
      ...about(last, 'end'),
      { about: 'divider', rule: rule.kind, at: main.apex, text: `One peak of those at ${places} min by ${name}.` },
    ],
  };
  return {
    ...draft,
    peaks: [...draft.peaks.filter((peak) => !within(peak)), one].sort((a, b) => a.start - b.start),
    apart: draft.apart.filter((peak) => !within(peak)),
  };
}
