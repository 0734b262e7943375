import type { Baseline } from '../baseline/index.js';
import { limitOf, meet, type ChainedPeak } from './chain.js';
import { skimKind } from './lay-skim.js';
import { laySkims, type Choose } from './lay-skims.js';
import { isOwn, ownBaseline } from './own-baseline.js';
import type { Divider, PlannedPeak } from './plan.js';
import { moveLimit, type PlanDraft } from './plan-draft.js';
import { covers, type DivideByRule } from './rule.js';

const words: Readonly<Record<Divider, string>> = {
  'drop line': 'a drop line',
  'valley to valley': 'a baseline from valley to valley',
  'tangent skim': 'a tangent skim',
  'exponential skim': 'an exponential skim',
};

/** Changes the sort of the dividers that lie in the stretch. */
export function divideBy(draft: PlanDraft, rule: DivideByRule, name: string): PlanDraft {
  const kind = limitOf(rule.divider);
  const text = `Divided by ${words[rule.divider]} by ${name}.`;
  const peaks: ChainedPeak[] = [...draft.peaks];
  let changed = false;
  for (let i = 1; i < peaks.length; i++) {
    const [left, right] = [peaks[i - 1]!, peaks[i]!];
    if (!meet(left, right) || !covers(rule, left.end)) continue;
    changed = true;
    peaks[i - 1] = moveLimit(left, 'end', left.end, kind, rule.kind, text);
    peaks[i] = { ...moveLimit(right, 'start', right.start, kind, rule.kind, text), divider: rule.divider };
  }
  return changed ? { ...draft, peaks } : draft;
}

/** Lays what the dividers between peaks side by side ask for: skims, and baselines from valley to valley. */
export function layDividers(
  draft: Pick<PlanDraft, 'trace' | 'run' | 'apart' | 'hidden'> & { readonly peaks: readonly ChainedPeak[] },
  baselines: readonly Baseline[],
  choose?: Choose,
): { readonly baselines: Baseline[]; readonly peaks: PlannedPeak[] } {
  const plain = baselines.filter((baseline) => !isOwn(baseline) && skimKind(baseline) === undefined);
  const known = new Set(plain.map(({ id }) => id));
  const onPlain = draft.peaks.map((peak) =>
    known.has(peak.baseline) || isOwnOf(peak, baselines) ? peak : { ...peak, baseline: draft.run.id },
  );
  const { peaks, skims } = laySkims(draft.trace, onPlain, plain, choose);
  const laid = layOwnBaselines({ ...draft, peaks }, [...baselines.filter((b) => !skimKind(b)), ...skims], skims);
  const needed = [...draft.apart, ...draft.hidden].map(({ baseline }) => baseline);
  const others = baselines.filter(
    (b) => skimKind(b) && needed.includes(b.id) && !laid.baselines.some(({ id }) => id === b.id),
  );
  return { ...laid, baselines: [...laid.baselines, ...others] };
}

function isOwnOf({ baseline }: PlannedPeak, baselines: readonly Baseline[]): boolean {
  return baselines.some((b) => b.id === baseline && isOwn(b));
}

/** Puts every peak with a valley as a limit on a baseline of its own, and those that have none any more back on that of the run. */
function layOwnBaselines(
  { trace, run, peaks, apart, hidden }: PlanDraft,
  baselines: readonly Baseline[],
  skims: readonly Baseline[],
): { readonly baselines: Baseline[]; readonly peaks: PlannedPeak[] } {
  const kept = baselines.filter((baseline) => !isOwn(baseline));
  const own: Baseline[] = [];
  const known = new Set(kept.map(({ id }) => id));
  const laid = peaks.map((peak) => {
    if (peak.startKind === 'valley' || peak.endKind === 'valley') {
      const baseline = ownBaseline(peak, trace, skims.find(({ id }) => id === peak.baseline) ?? run);
      own.push(baseline);
      return { ...peak, baseline: baseline.id };
    }
    return known.has(peak.baseline) ? peak : { ...peak, baseline: run.id };
  });
  const needed = [...apart, ...hidden].map(({ baseline }) => baseline);
  const others = baselines.filter((b) => isOwn(b) && needed.includes(b.id) && !own.some(({ id }) => id === b.id));
  return { baselines: [...kept, ...own, ...others], peaks: laid };
}
