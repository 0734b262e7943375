import { sideBySide, type Divider, type DivideByRule } from '../integration/index.js';
import type { Analysis } from './analysis.js';

/**
 * Where one run of a set is otherwise than the set.
 *
 * @public
 */
export interface DivisionDeparture {
  /** [-] Which analysis of the list, counted from 0. */
  readonly run: number;
  /** [min] Where. */
  readonly at: number;
  /** What differs. */
  readonly what: 'divider' | 'number of peaks';
  /** What this run has. */
  readonly here: string;
  /** What the set has. */
  readonly set: string;
}

/**
 * One division for a set.
 *
 * @public
 */
export interface PinnedDivision {
  /** A rule for every divider that a policy chose, so that every run has the same one. */
  readonly rules: readonly DivideByRule[];
  /** Runs that had another divider, or another number of peaks, in order of time. */
  readonly departures: readonly DivisionDeparture[];
}

/** A divider of one run. */
interface Seen {
  readonly run: number;
  /** [min] The valley, and the apexes before and after it. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly divider: Divider;
}

/**
 * Chooses one divider for every valley of a set, so that the set never mixes:
 * what most of its runs have, of equally many that of the earliest run. Dividers belong together when
 * each lies between the apexes beside the other. Only runs whose method says `divider: 'policy'`
 * are looked at for dividers; the number of peaks in what belongs together is compared for every
 * method, and only listed: a peak that a fit reveals in one run and not in another cannot be pinned.
 *
 * @param analyses - The runs of the set.
 * @returns Rules to add to those of the method, which {@link pinMethod} does, and the departures.
 *
 * @public
 */
export function pinDivision(analyses: readonly Analysis[]): PinnedDivision {
  const groups = together(
    analyses.flatMap((analysis, run) => dividersOf(analysis, run)),
    (a, b) => a.at > b.from && a.at < b.to && b.at > a.from && b.at < a.to,
  );
  const departures: DivisionDeparture[] = [];
  const rules: DivideByRule[] = [];
  let before = -Infinity;
  for (const group of groups) {
    const divider = mostOf([...group].sort((a, b) => a.run - b.run).map((seen) => seen.divider));
    const from = Math.max(before, ...group.map((seen) => seen.from));
    const to = Math.min(...group.map((seen) => seen.to));
    if (to > from) {
      const reason = `one divider for the set of ${analyses.length}`;
      rules.push({ kind: 'divide by', from, to, divider, reason });
      before = to;
    }
    for (const seen of group) {
      if (seen.divider === divider) continue;
      departures.push({ run: seen.run, at: seen.at, what: 'divider', here: seen.divider, set: divider });
    }
  }
  const regions = analyses.flatMap(({ regions: list }, run) =>
    list.map(({ start, end, peaks }) => ({ run, at: start, end, count: peaks.length })),
  );
  for (const group of together(regions, (a, b) => a.at < b.end && b.at < a.end)) {
    const counts = analyses.map((_, run) => group.filter((r) => r.run === run).reduce((sum, r) => sum + r.count, 0));
    const set = mostOf(counts);
    const at = Math.min(...group.map((r) => r.at));
    counts.forEach((count, run) => {
      if (count === set) return;
      departures.push({ run, at, what: 'number of peaks', here: `${count}`, set: `${set}` });
    });
  }
  return { rules, departures: departures.sort((a, b) => a.at - b.at || a.run - b.run) };
}

/** The dividers of a run that a policy chose. */
function dividersOf({ plan, settings }: Analysis, run: number): Seen[] {
  if (settings.divider !== 'policy') return [];
  const ruled = settings.rules.filter((rule) => rule.kind === 'divide by');
  return plan.regions.flatMap(({ peaks }) => {
    const chain = sideBySide(peaks, plan.baselines);
    return chain.slice(1).flatMap((peak, i): Seen[] => {
      const left = chain[i]!;
      const at = peak.start;
      if (left.end !== at || ruled.some(({ from, to }) => left.apex < to && peak.apex > from)) return [];
      const kind = peak.startKind === 'valley' ? 'valley to valley' : 'drop line';
      const divider = peak.divider === undefined || peak.divider === 'policy' ? kind : peak.divider;
      return [{ run, at, from: left.apex, to: peak.apex, divider }];
    });
  });
}

/** What belongs together, in the order in which the first of each came in time; each group grows from its first. */
function together<T extends { readonly at: number }>(items: readonly T[], belong: (a: T, b: T) => boolean): T[][] {
  const groups: T[][] = [];
  for (const item of [...items].sort((a, b) => a.at - b.at)) {
    const group = groups.find((each) => each.some((other) => belong(item, other)));
    if (group) group.push(item);
    else groups.push([item]);
  }
  return groups;
}

/** The commonest value; of equally common ones that of the first in the list. */
function mostOf<T>(values: readonly T[]): T {
  const count = (value: T): number => values.filter((each) => each === value).length;
  return values.reduce((a, b) => (count(b) > count(a) ? b : a));
}
