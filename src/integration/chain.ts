import type { Baseline } from '../baseline/index.js';
import { skimKind } from './lay-skim.js';
import type { Decision, Divider, LimitKind, PlannedPeak } from './plan.js';

/** A peak with what divides it from the one before when the two touch. */
export interface ChainedPeak extends PlannedPeak {
  /** By which divider, or that a policy is to choose; as the limit says when it is not told. */
  readonly divider?: Divider | 'policy';
}

/** The peak as a plan has it. */
export function unchained(peak: ChainedPeak): PlannedPeak {
  if (peak.divider === undefined) return peak;
  const plain = { ...peak };
  delete plain.divider;
  return plain;
}

/** Kind of the limit that a divider makes. */
export function limitOf(divider: Divider): LimitKind {
  if (divider === 'drop line') return divider;
  return divider === 'valley to valley' ? 'valley' : 'skim';
}

/** Whether two neighbours meet at a divider. */
export function meet(left: PlannedPeak, right: PlannedPeak): boolean {
  return left.end === right.start && ['drop line', 'valley', 'skim'].includes(left.endKind);
}

/** A limit between two neighbours. */
interface Between {
  readonly at: number;
  readonly kind: LimitKind;
  readonly why: readonly Decision[];
  readonly divider?: Divider;
}

/**
 * The peaks of a plan side by side, those that ride too: each ends where the next
 * begins, at the valley, and knows by what it was divided.
 *
 * @param peaks - In any order; the same list when none rides.
 */
export function sideBySide(peaks: readonly PlannedPeak[], baselines: readonly Baseline[]): readonly ChainedPeak[] {
  if (!peaks.some(({ rides }) => rides !== undefined)) return peaks;
  const byId = new Map(peaks.map((p) => [p.id, p]));
  const carrier = ({ rides }: PlannedPeak): PlannedPeak | undefined =>
    rides === undefined ? undefined : byId.get(rides);
  /** The peak and all that carry it. */
  const family = (peak: PlannedPeak): PlannedPeak[] => {
    const members: PlannedPeak[] = [];
    for (let p: PlannedPeak | undefined = peak; p && !members.includes(p); p = carrier(p)) members.push(p);
    return members;
  };
  const between = (a: PlannedPeak, b: PlannedPeak): Between | undefined => {
    const all = (p: PlannedPeak, about: string) => p.decisions.filter((d) => d.about === about);
    if (a.end === b.start && a.endKind !== 'skim') {
      return meet(a, b) ? { at: a.end, kind: a.endKind, why: all(a, 'end') } : undefined;
    }
    const [left, right] = [family(a), family(b)];
    const behind = right.find((p) => !left.includes(p) && left.includes(carrier(p)!) && p.apex > carrier(p)!.apex);
    const rider =
      behind ?? left.find((p) => !right.includes(p) && right.includes(carrier(p)!) && p.apex < carrier(p)!.apex);
    if (rider === undefined) return undefined;
    const divider = skimKind(baselines.find(({ id }) => id === rider.baseline) ?? { kind: '' }) ?? 'tangent skim';
    return behind
      ? { at: rider.start, kind: 'skim', why: all(rider, 'start'), divider }
      : { at: rider.end, kind: 'skim', why: all(rider, 'end'), divider };
  };
  const sorted = [...peaks].sort((a, b) => a.apex - b.apex);
  const limits = sorted.map((peak, i) => (i > 0 ? between(sorted[i - 1]!, peak) : undefined));
  const bottom = (peak: PlannedPeak): PlannedPeak => family(peak).at(-1)!;
  return sorted.map((peak, i): ChainedPeak => {
    const [before, after] = [limits[i], limits[i + 1]];
    if (!peak.rides && !before && !after) return peak;
    const rest: { -readonly [K in keyof PlannedPeak]: PlannedPeak[K] } = { ...peak };
    delete rest.rides;
    const [from, to] = [bottom(peak), bottom(peak)];
    const about = (name: 'start' | 'end', limit: Between | undefined): readonly Decision[] =>
      limit
        ? limit.why.map((d) => ({ ...d, about: name }))
        : (name === 'start' ? from : to).decisions.filter((d) => d.about === name);
    return {
      ...rest,
      start: before?.at ?? from.start,
      startKind: before?.kind ?? from.startKind,
      end: after?.at ?? to.end,
      endKind: after?.kind ?? to.endKind,
      decisions: [
        ...peak.decisions.filter((d) => !['start', 'end', 'divider'].includes(d.about)),
        ...about('start', before),
        ...about('end', after),
      ],
      ...(before?.divider && { divider: before.divider }),
    };
  });
}
