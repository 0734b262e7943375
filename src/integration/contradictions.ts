import { exclusionsOf, type Rule } from './rule.js';

/** Indexes of two rules, the earlier first, and why both cannot hold. */
export type Contradiction = readonly [earlier: number, later: number, why: string];

type Span = Pick<Rule, 'from' | 'to'>;

const inside = (a: Span, b: Span): boolean => a.from >= b.from && a.to <= b.to;
const overlap = (a: Span, b: Span): boolean => a.from < b.to && b.from < a.to;
const touch = (a: Span, b: Span): boolean => a.from <= b.to && b.from <= a.to;

/** Every two rules that cannot both hold, in the order of the list. */
export function contradictionsIn(rules: readonly Rule[]): Contradiction[] {
  const found: Contradiction[] = [];
  rules.forEach((later, j) => {
    rules.slice(0, j).forEach((earlier, i) => {
      const why = moved(earlier, later) ?? clash(earlier, later) ?? clash(later, earlier);
      if (why !== undefined) found.push([i, j, why]);
    });
  });
  // A rule outside every stretch that is integrated contradicts the nearest of them.
  const only = rules.filter((rule) => rule.kind === 'integrate only within');
  rules.forEach((rule, j) => {
    if (only.length === 0 || !speaksOfPeaks(rule) || only.some((window) => touch(rule, window))) return;
    const gap = (window: Span): number => Math.max(window.from - rule.to, rule.from - window.to);
    const i = rules.indexOf(only.reduce((a, b) => (gap(b) < gap(a) ? b : a)));
    found.push([Math.min(i, j), Math.max(i, j), 'there is no peak where nothing is integrated']);
  });
  for (const { from, to, rule: i } of exclusionsOf(rules)) {
    rules.forEach((rule, j) => {
      if (rule.kind !== 'keep together' || from <= rule.from || to >= rule.to) return;
      found.push([Math.min(i, j), Math.max(i, j), 'what is kept together has no hole']);
    });
  }
  return found;
}

/** Whether a rule has no sense where there is no peak. */
function speaksOfPeaks({ kind }: Rule): boolean {
  return kind !== 'no peaks within' && kind !== 'fix the baseline level' && kind !== 'baseline must pass through';
}

/** Why two rules cannot both hold, if they are of the kinds in question in this order. */
function clash(a: Rule, b: Rule): string | undefined {
  if (b.kind === 'no peaks within' && speaksOfPeaks(a) && inside(a, b)) {
    // A split at the very edge makes the part that is hidden.
    const atEdge = a.from === a.to && (a.from === b.from || a.to === b.to);
    return atEdge ? undefined : 'there is no peak where none may be';
  }
  if (b.kind === 'keep together') {
    const divides = a.kind === 'split at' ? touch(a, b) : a.kind === 'divide by' && inside(a, b);
    return divides ? 'what is kept together has no divider inside' : undefined;
  }
  return overlap(a, b) ? disagreement(a, b) : undefined;
}

/** Why two rules about one thing cannot both hold where they overlap. */
function disagreement(a: Rule, b: Rule): string | undefined {
  if (b.kind === 'divide by') {
    return a.kind === 'divide by' && a.divider !== b.divider ? 'a divider is of one sort' : undefined;
  }
  if (b.kind === 'expected width') {
    return a.kind === b.kind && a.sigma !== b.sigma ? 'two different widths are expected at one place' : undefined;
  }
  if (b.kind !== 'fix the baseline level') return undefined;
  if (a.kind === 'baseline must pass through') return 'what is fixed cannot be bent';
  return a.kind === b.kind && (a.level === undefined || a.level !== b.level)
    ? 'the baseline has one level at one place'
    : undefined;
}

/** Why a later bend of the baseline undoes an earlier one. */
function moved(earlier: Rule, later: Rule): string | undefined {
  if (earlier.kind !== 'baseline must pass through' || later.kind !== 'baseline must pass through') return undefined;
  const same = earlier.at === later.at && earlier.level === later.level;
  return !same && earlier.at > later.from && earlier.at < later.to
    ? 'the later one moves the baseline away from the point of the earlier one'
    : undefined;
}
