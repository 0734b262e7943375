import type { Baseline } from '../baseline/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { chooseCut } from './choose-cut.js';
import { limitOf, meet, type ChainedPeak } from './chain.js';
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
 * @returns The peaks in order of their apexes, and the skims; the same list when there was none to lay.
 */
export function laySkims(
  trace: Trace,
  peaks: readonly ChainedPeak[],
  baselines: readonly Baseline[],
  choose?: Choose,
): { readonly peaks: readonly PlannedPeak[]; readonly skims: readonly Baseline[] } {
  const wanted = peaks.some((p) => p.divider === 'policy' || p.startKind === 'skim' || p.endKind === 'skim');
  if (!wanted) return { peaks, skims: [] };
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

/** One chain of peaks that touch. */
function layChain(
  trace: Trace,
  chain: readonly ChainedPeak[],
  run: Baseline,
  skims: Baseline[],
  choose: Choose | undefined,
): PlannedPeak[] {
  const sign = chain[0]!.direction === 'up' ? 1 : -1;
  const signal = { time: trace.time, value: trace.signal };
  const depth = chain.map(({ start }) => sign * (polylineAt(signal, start) - polylineAt(run, start)));
  const dividers = chain.map(({ divider, startKind }) => divider ?? dividerOf(startKind));
  const drafts = chain.map((peak): Draft => {
    const { divider: _, ...rest } = peak;
    return { ...rest, decisions: rest.decisions.filter(({ about }) => about !== 'start' && about !== 'end') };
  });
  const whyOf = (peak: PlannedPeak, about: 'start' | 'end') => peak.decisions.filter((d) => d.about === about);

  /** Lays the peaks from one to another between two edges; gives those that ride on none of the others. */
  const lay = (lo: number, hi: number, from: Edge, to: Edge, base: Baseline, on: string | undefined): Draft[] => {
    if (lo === hi) {
      const draft = drafts[lo]!;
      Object.assign(draft, { start: from.at, startKind: from.kind, end: to.at, endKind: to.kind, baseline: base.id });
      if (on !== undefined) draft.rides = on;
      draft.decisions = [...draft.decisions, ...from.why, ...to.why];
      return [draft];
    }
    const top = highest(trace, base, chain.slice(lo, hi + 1), sign);
    const place = chain.findIndex(({ id }) => id === top.id);
    const cut = chooseCut(trace, { peaks: chain, dividers, depth, base, sign }, [lo, place, hi], from.at, to.at);
    const valley = chain[cut]!.start;
    const known = (about: 'start' | 'end') => whyOf(about === 'end' ? chain[cut - 1]! : chain[cut]!, about);
    const [left, right] = [chain.slice(lo, cut), chain.slice(cut, hi + 1)];
    const behind = place < cut;
    // The larger side first, as if it ended at the valley: which of its peaks is next to the valley depends on its own dividers.
    const edge = (about: 'start' | 'end', kind: LimitKind, why: readonly Decision[] = known(about)): Edge => ({
      at: valley,
      kind,
      why,
    });
    const asked = dividers[cut]!;
    const main = behind
      ? lay(lo, cut - 1, from, edge('end', 'drop line', []), base, on)
      : lay(cut, hi, edge('start', 'drop line', []), to, base, on);
    const parent = main.at(behind ? -1 : 0)!;
    const riders = behind ? right : left;
    const near = riders.at(behind ? 0 : -1)!;
    const choice: Choice = asked === 'policy' ? choose!(parent, near, valley, base) : { use: asked, decisions: [] };
    const divide = (use: 'drop line' | 'valley to valley', why: readonly Decision[]): Draft[] => {
      const kind = limitOf(use);
      const more = (about: 'start' | 'end'): Edge =>
        edge(
          about,
          kind,
          known(about).map((d) => reword(d, asked, use)),
        );
      const other = behind ? lay(cut, hi, more('start'), to, base, on) : lay(lo, cut - 1, from, more('end'), base, on);
      if (behind) parent.endKind = kind;
      else parent.startKind = kind;
      const side = behind ? 'end' : 'start';
      parent.decisions = [...parent.decisions, ...more(side).why, ...why];
      const beside = other.at(behind ? 0 : -1)!;
      beside.decisions = [...beside.decisions, ...why];
      return behind ? [...main, ...other] : [...other, ...main];
    };
    if (choice.use === 'drop line' || choice.use === 'valley to valley') return divide(choice.use, choice.decisions);
    const far = behind ? to : from;
    const skim = laySkim(trace, {
      kind: choice.use,
      parent,
      riders,
      valley,
      room: far.at,
      open: far.kind === 'baseline',
      base,
    });
    if ('why' in skim) {
      const text = `No ${choice.use}: ${skim.why}. A drop line instead.`;
      return divide('drop line', [
        ...choice.decisions,
        { about: 'divider', rule: 'drop line for want of a skim', at: valley, text },
      ]);
    }
    const baseline = { ...skim.baseline, id: freshName(skim.baseline.id, skims) };
    skims.push(baseline);
    const limit = (about: 'start' | 'end', at: number, value: number): Edge => ({
      at,
      kind: 'skim',
      why: [{ about, rule: choice.use, at, value, text: skim.text }],
    });
    const [atValley, atEnd] = skim.levels;
    const tops = behind
      ? lay(cut, hi, limit('start', valley, atValley), limit('end', skim.end, atEnd), baseline, parent.id)
      : lay(lo, cut - 1, limit('start', skim.end, atEnd), limit('end', valley, atValley), baseline, parent.id);
    Object.assign(parent, behind ? { end: to.at, endKind: to.kind } : { start: from.at, startKind: from.kind });
    const names = riders.map(({ apex }) => apex.toFixed(3)).join(', ');
    const text = `What lies at ${names} min rides on it: its area above the ${choice.use} is transferred.`;
    parent.decisions = [
      ...parent.decisions,
      ...far.why,
      ...choice.decisions,
      { about: 'divider', rule: choice.use, at: valley, text },
    ];
    const rider = tops.at(behind ? 0 : -1)!;
    rider.decisions = [...rider.decisions, ...choice.decisions];
    return main;
  };

  const outer = (peak: PlannedPeak, about: 'start' | 'end'): Edge => {
    const kind = about === 'start' ? peak.startKind : peak.endKind;
    // Whoever was beyond it is gone.
    return { at: peak[about], kind: kind === 'skim' ? 'drop line' : kind, why: whyOf(peak, about) };
  };
  lay(0, chain.length - 1, outer(chain[0]!, 'start'), outer(chain.at(-1)!, 'end'), run, undefined);
  return drafts;
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
