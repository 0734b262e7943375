import type { HiddenPeak, PlannedPeak } from './plan.js';
import { freshId, highestBetween, moveLimit, type PlanDraft } from './plan-draft.js';
import type { NoPeaksRule, OnlyWithinRule } from './rule.js';

/**
 * Hides the peaks whose apex is excluded, and of those that reach into what is
 * excluded all that lies beyond its edge, seen from the apex.
 */
export function exclude(
  draft: PlanDraft,
  stretches: readonly { readonly from: number; readonly to: number }[],
  { kind, reason }: NoPeaksRule | OnlyWithinRule,
  index: number,
  name: string,
): PlanDraft {
  const peaks: PlannedPeak[] = [];
  const hidden: HiddenPeak[] = [];
  const hide = (peak: PlannedPeak, what: string): void => {
    const decision = { about: 'peak', rule: kind, at: peak.apex, text: `${what} by ${name}: ${reason}.` };
    hidden.push({ ...peak, decisions: [...peak.decisions, decision], rule: index + 1, reason });
  };
  for (const peak of draft.peaks) {
    const { apex, start, end, direction } = peak;
    if (stretches.some(({ from, to }) => apex >= from && apex <= to)) {
      hide(peak, 'Hidden');
      continue;
    }
    const hidePart = (from: number, to: number): void => {
      const top = highestBetween(draft, direction, from, to);
      const id = freshId({ ...draft, hidden: [...draft.hidden, ...hidden] }, top);
      const startKind = from === start ? peak.startKind : 'by rule';
      const endKind = to === end ? peak.endKind : 'by rule';
      const part = {
        ...peak,
        id,
        baseline: draft.run.id,
        apex: top,
        start: from,
        end: to,
        startKind,
        endKind,
        decisions: [],
      };
      hide(part, `A part of the peak at ${apex.toFixed(3)} min, hidden`);
    };
    const first = Math.max(start, ...stretches.map(({ to }) => (to < apex ? to : -Infinity)));
    const last = Math.min(end, ...stretches.map(({ from }) => (from > apex ? from : Infinity)));
    const why = `Cut by ${name}: ${reason}.`;
    let left = peak;
    if (first > start) {
      hidePart(start, first);
      left = moveLimit(left, 'start', first, 'by rule', kind, why);
    }
    if (last < end) {
      hidePart(last, end);
      left = moveLimit(left, 'end', last, 'by rule', kind, why);
    }
    peaks.push(left);
  }
  return hidden.length > 0 ? { ...draft, peaks, hidden: [...draft.hidden, ...hidden] } : draft;
}
