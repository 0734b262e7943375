import type { Baseline } from '../baseline/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { chooseCut, type Cuttable } from './choose-cut.js';
import { limitOf, meet, unchained, type ChainedPeak } from './chain.js';
import { highest, laySkim } from './lay-skim.js';
import type { Decision, Divider, LimitKind, PlannedPeak } from './plan.js';

/** What a policy says about one divider. */
export interface Choice {
  readonly use: Divider;
  /** What triggered it, in order. */
  readonly decisions: readonly Decision[];
}

/** Chooses the divider between the larger of two peaks and the smaller one beyond the valley. */
export type Choose = (larger: PlannedPeak, smaller: PlannedPeak, valley: number, base: Baseline) => Choice;

/** An outer limit of some peaks that stand together. */
interface Edge {
  readonly at: number;
  readonly kind: LimitKind;
  readonly why: readonly Decision[];
}

/** A peak while it is laid. */
type Draft = { -readonly [K in keyof PlannedPeak]: PlannedPeak[K] };

/**
 * Lays the skims of peaks that stand side by side. Peaks that touch are parted at
 * one valley after the other ({@link chooseCut} has the order): at a skim the smaller
 * side rides on the peak of the larger side that is next to the valley, and whatever is divided
 * further within either side is divided on what that side stands on. So a peak can ride on one that rides.
 *
 * @param peaks - Side by side, in order of time.
 * @param choose - For dividers that a policy is to choose.
 * @returns The peaks in order of their apexes, and the skims; as they are when there was none to lay.
 */
export function laySkims(
  trace: Trace,
  peaks: readonly ChainedPeak[],
  baselines: readonly Baseline[],
  choose?: Choose,
): { readonly peaks: readonly PlannedPeak[]; readonly skims: readonly Baseline[] } {
  const wanted = peaks.some((p) => p.divider === 'policy' || p.startKind === 'skim' || p.endKind === 'skim');
  if (!wanted) return { peaks: peaks.map(unchained), skims: [] };
  const skims: Baseline[] = [];
  const laid: PlannedPeak[] = [];
  for (let first = 0; first < peaks.length;) {
    let last = first;
    while (last + 1 < peaks.length && meet(peaks[last]!, peaks[last + 1]!)) last++;
    const chain = peaks.slice(first, last + 1);
    const base = baselines.find(({ id }) => id === chain[0]!.baseline) ?? baselines[0]!;
    laid.push(...layChain(trace, chain, base, skims, choose));
    first = last + 1;
  }
  return { peaks: laid, skims };
}

/** A chain of peaks while it is laid. */
interface Laying extends Cuttable {
  readonly trace: Trace;
  readonly peaks: readonly ChainedPeak[];
  readonly drafts: readonly Draft[];
  readonly choose: Choose | undefined;
  /** Takes the skims. */
  readonly skims: Baseline[];
}

/** Some peaks of a chain that stand together. */
interface Stand {
  /** Indexes of the first and the last. */
  readonly lo: number;
  readonly hi: number;
  readonly from: Edge;
  readonly to: Edge;
  readonly base: Baseline;
  /** `id` of the peak they ride on. */
  readonly on: string | undefined;
}

/** A place where some that stand together are parted: the side of the largest first. */
interface Parting {
  readonly stand: Stand;
  /** Index of the first peak beyond. */
  readonly cut: number;
  /** [min] Where. */
  readonly valley: number;
  readonly asked: Divider | 'policy';
  /** Whether the smaller side is the later one. */
  readonly behind: boolean;
  /** The peaks of the side of the largest that ride on none of them. */
  readonly main: readonly Draft[];
  /** That one of them which is next to the valley. */
  readonly parent: Draft;
}

const whyOf = (peak: PlannedPeak, about: 'start' | 'end') => peak.decisions.filter((d) => d.about === about);

/** One chain of peaks that touch. */
function layChain(
  trace: Trace,
  peaks: readonly ChainedPeak[],
  base: Baseline,
  skims: Baseline[],
  choose: Choose | undefined,
): readonly PlannedPeak[] {
  const sign = peaks[0]!.direction === 'up' ? 1 : -1;
  const signal = { time: trace.time, value: trace.signal };
  const depth = peaks.map(({ start }) => sign * (polylineAt(signal, start) - polylineAt(base, start)));
  const dividers = peaks.map(({ divider, startKind }) => divider ?? dividerOf(startKind));
  const drafts = peaks.map((peak): Draft => {
    const decisions = peak.decisions.filter(({ about }) => about !== 'start' && about !== 'end');
    return { ...unchained(peak), decisions };
  });
  const outer = (peak: PlannedPeak, about: 'start' | 'end'): Edge => {
    const kind = about === 'start' ? peak.startKind : peak.endKind;
    // Whoever was beyond it is gone.
    return { at: peak[about], kind: kind === 'skim' ? 'drop line' : kind, why: whyOf(peak, about) };
  };
  const [first, last] = [peaks[0]!, peaks.at(-1)!];
  const laying = { trace, peaks, drafts, dividers, depth, base, sign, skims, choose } as const;
  lay(laying, {
    lo: 0,
    hi: peaks.length - 1,
    from: outer(first, 'start'),
    to: outer(last, 'end'),
    base,
    on: undefined,
  });
  return drafts;
}

/** Lays peaks that stand together; gives those that ride on none of the others. */
function lay(laying: Laying, stand: Stand): readonly Draft[] {
  const { trace, peaks, sign } = laying;
  const { lo, hi, from, to, base, on } = stand;
  if (lo === hi) {
    const draft = laying.drafts[lo]!;
    Object.assign(draft, { start: from.at, startKind: from.kind, end: to.at, endKind: to.kind, baseline: base.id });
    if (on !== undefined) draft.rides = on;
    draft.decisions = [...draft.decisions, ...from.why, ...to.why];
    return [draft];
  }
  const top = highest(trace, base, peaks.slice(lo, hi + 1), sign);
  const place = peaks.findIndex(({ id }) => id === top.id);
  const cut = chooseCut(trace, { ...laying, base }, [lo, place, hi], from.at, to.at);
  const valley = peaks[cut]!.start;
  const behind = place < cut;
  // The side of the largest first, as if it ended at the valley: which of its peaks is next to that depends on its own dividers.
  const edge: Edge = { at: valley, kind: 'drop line', why: [] };
  const main = lay(laying, behind ? { ...stand, hi: cut - 1, to: edge } : { ...stand, lo: cut, from: edge });
  const parent = main.at(behind ? -1 : 0)!;
  const asked = laying.dividers[cut]!;
  const parting: Parting = { stand, cut, valley, asked, behind, main, parent };
  const choice: Choice =
    asked === 'policy'
      ? laying.choose!(parent, peaks[behind ? cut : cut - 1]!, valley, base)
      : { use: asked, decisions: [] };
  return choice.use === 'drop line' || choice.use === 'valley to valley'
    ? divideThere(laying, parting, choice.use, choice.decisions)
    : skimThere(laying, parting, choice.use, choice.decisions);
}

/** Parts the two sides at the valley, and lays the smaller one beside the other. */
function divideThere(
  laying: Laying,
  { stand, cut, valley, asked, behind, main, parent }: Parting,
  use: 'drop line' | 'valley to valley',
  why: readonly Decision[],
): readonly Draft[] {
  const kind = limitOf(use);
  const edge = (about: 'start' | 'end'): Edge => {
    const known = whyOf(laying.peaks[about === 'end' ? cut - 1 : cut]!, about);
    return { at: valley, kind, why: known.map((d) => reword(d, asked, use)) };
  };
  const other = lay(
    laying,
    behind ? { ...stand, lo: cut, from: edge('start') } : { ...stand, hi: cut - 1, to: edge('end') },
  );
  Object.assign(parent, behind ? { endKind: kind } : { startKind: kind });
  parent.decisions = [...parent.decisions, ...edge(behind ? 'end' : 'start').why, ...why];
  const beside = other.at(behind ? 0 : -1)!;
  beside.decisions = [...beside.decisions, ...why];
  return behind ? [...main, ...other] : [...other, ...main];
}

/** Lets the smaller side ride, or parts the two by a drop line where it cannot. */
function skimThere(
  laying: Laying,
  parting: Parting,
  use: 'tangent skim' | 'exponential skim',
  why: readonly Decision[],
): readonly Draft[] {
  const { trace, peaks, skims } = laying;
  const { stand, cut, valley, behind, main, parent } = parting;
  const riders = behind ? peaks.slice(cut, stand.hi + 1) : peaks.slice(stand.lo, cut);
  const far = behind ? stand.to : stand.from;
  const open = far.kind === 'baseline';
  const skim = laySkim(trace, { kind: use, parent, riders, valley, room: far.at, open, base: stand.base });
  if ('why' in skim) {
    const text = `No ${use}: ${skim.why}. A drop line instead.`;
    const rule = 'drop line for want of a skim';
    return divideThere(laying, parting, 'drop line', [...why, { about: 'divider', rule, at: valley, text }]);
  }
  const base = { ...skim.baseline, id: freshName(skim.baseline.id, skims) };
  skims.push(base);
  const edge = (about: 'start' | 'end', at: number, value: number): Edge => ({
    at,
    kind: 'skim',
    why: [{ about, rule: use, at, value, text: skim.text }],
  });
  const [atValley, atEnd] = skim.levels;
  const tops = lay(
    laying,
    behind
      ? {
          lo: cut,
          hi: stand.hi,
          from: edge('start', valley, atValley),
          to: edge('end', skim.end, atEnd),
          base,
          on: parent.id,
        }
      : {
          lo: stand.lo,
          hi: cut - 1,
          from: edge('start', skim.end, atEnd),
          to: edge('end', valley, atValley),
          base,
          on: parent.id,
        },
  );
  Object.assign(parent, behind ? { end: far.at, endKind: far.kind } : { start: far.at, startKind: far.kind });
  const names = riders.map(({ apex }) => apex.toFixed(3)).join(', ');
  const text = `What lies at ${names} min rides on it: its area above the ${use} is transferred.`;
  parent.decisions = [...parent.decisions, ...far.why, ...why, { about: 'divider', rule: use, at: valley, text }];
  const rider = tops.at(behind ? 0 : -1)!;
  rider.decisions = [...rider.decisions, ...why];
  return main;
}

function dividerOf(kind: LimitKind): Divider {
  if (kind === 'skim') return 'tangent skim';
  return kind === 'valley' ? 'valley to valley' : 'drop line';
}

/** A decision about a limit, when the divider became another than it said. */
function reword(decision: Decision, asked: Divider | 'policy', used: Divider): Decision {
  return asked === used
    ? decision
    : { ...decision, text: decision.text.replace(asked === 'policy' ? 'by policy' : asked, used) };
}

/** A name no skim has yet: on one baseline another peak of a few can be the highest than on the other. */
function freshName(stem: string, skims: readonly Baseline[]): string {
  let id = stem;
  for (let k = 2; skims.some((skim) => skim.id === id); k++) id = `${stem}-${k}`;
  return id;
}
