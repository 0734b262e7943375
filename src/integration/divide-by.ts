import type { Baseline } from '../baseline/index.js';
import type { PlannedPeak } from './plan.js';
import { moveLimit, type PlanDraft } from './plan-draft.js';
import { isOwn, ownBaseline } from './own-baseline.js';
import { covers, type DivideByRule } from './rule.js';

/** Changes the sort of the dividers that lie in the stretch. */
export function divideBy(draft: PlanDraft, rule: DivideByRule, name: string): PlanDraft {
  const kind = rule.divider === 'drop line' ? 'drop line' : 'valley';
  const text = `Divided by a ${rule.divider === 'drop line' ? 'drop line' : 'baseline from valley to valley'} by ${name}.`;
  const peaks = [...draft.peaks];
  let changed = false;
  for (let i = 1; i < peaks.length; i++) {
    const [left, right] = [peaks[i - 1]!, peaks[i]!];
    const touching = left.end === right.start && (left.endKind === 'drop line' || left.endKind === 'valley');
    if (!touching || !covers(rule, left.end)) continue;
    changed = true;
    peaks[i - 1] = moveLimit(left, 'end', left.end, kind, rule.kind, text);
    peaks[i] = moveLimit(right, 'start', right.start, kind, rule.kind, text);
  }
  return changed ? { ...draft, peaks } : draft;
}

/** Puts every peak with a valley as a limit on a baseline of its own, and those that have none any more back on that of the run. */
export function layOwnBaselines(
  { trace, run, peaks, apart, hidden }: PlanDraft,
  baselines: readonly Baseline[],
): { readonly baselines: Baseline[]; readonly peaks: PlannedPeak[] } {
  const kept = baselines.filter((baseline) => !isOwn(baseline));
  const own: Baseline[] = [];
  const known = new Set(kept.map(({ id }) => id));
  const laid = peaks.map((peak) => {
    if (peak.startKind === 'valley' || peak.endKind === 'valley') {
      const baseline = ownBaseline(peak, trace, run);
      own.push(baseline);
      return { ...peak, baseline: baseline.id };
    }
    return known.has(peak.baseline) ? peak : { ...peak, baseline: run.id };
  });
  const needed = [...apart, ...hidden].map(({ baseline }) => baseline);
  const others = baselines.filter((b) => isOwn(b) && needed.includes(b.id) && !own.some(({ id }) => id === b.id));
  return { baselines: [...kept, ...own, ...others], peaks: laid };
}
