import type { PlannedPeak } from './plan.js';
import { freshId, highestBetween, moveLimit, type PlanDraft } from './plan-draft.js';
import type { SplitRule } from './rule.js';
import { findValley } from './valley.js';

/** [-] Standard deviation of a peak over the stretch in which a valley beside it is looked for. */
const sigmaOfStretch = 1 / 6;

/** Makes two of the peak that holds the place: a vertical at the valley of the stretch, or exactly at a single place. */
export function splitAt(draft: PlanDraft, { kind, from, to }: SplitRule, name: string): PlanDraft {
  const middle = (from + to) / 2;
  const whole = draft.peaks.find(({ start, end }) => middle > start && middle < end);
  if (whole === undefined) return draft;
  const { start, end, apex, direction } = whole;
  let at = middle;
  if (to > from) {
    const [a, b] = [Math.max(from, start), Math.min(to, end)];
    const sign = direction === 'up' ? 1 : -1;
    at = findValley(draft.trace, draft.run, a, b, sigmaOfStretch * (b - a), sign, true).at;
    if (!(at > start && at < end)) return draft;
  }
  const text = `Split by ${name}.`;
  const half = (a: number, b: number): PlannedPeak => {
    if (apex >= a && apex < b) return whole;
    const top = highestBetween(draft, direction, a, b);
    const decision = {
      about: 'peak',
      rule: kind,
      at: top,
      text: `Made by ${name} out of the peak at ${apex.toFixed(3)} min.`,
    };
    const limits = whole.decisions.filter(({ about }) => about === 'start' || about === 'end');
    return { ...whole, id: freshId(draft, top), apex: top, decisions: [decision, ...limits] };
  };
  const halves = [
    moveLimit(half(start, at), 'end', at, 'drop line', kind, text),
    moveLimit(half(at, end), 'start', at, 'drop line', kind, text),
  ];
  return { ...draft, peaks: draft.peaks.flatMap((peak) => (peak === whole ? halves : [peak])) };
}
