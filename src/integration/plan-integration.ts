import type { Baseline } from '../baseline/index.js';
import { defined, resolveOptions } from '../core/index.js';
import type { Candidate } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';
import { limitOf, unchained, type ChainedPeak } from './chain.js';
import { layDividers } from './divide-by.js';
import { checkPolicy, choiceBy, standardDivisionPolicy, type DivisionPolicy } from './division-policy.js';
import type { BridgedStretch, Decision, Divider, IntegrationPlan } from './plan.js';
import { nameOf } from './name-of.js';
import { findValley } from './valley.js';

/**
 * Options of {@link planIntegration}.
 *
 * @public
 */
export interface PlanOptions {
  /**
   * What divides peaks that touch; see {@link Divider}. With `'policy'` each divider is chosen by `divisionPolicy`. Where a
   * skim cannot be laid a drop line divides, and the decisions say why.
   *
   * @defaultValue 'drop line'
   */
  readonly divider?: Divider | 'policy';
  /**
   * Which divider when, for `divider: 'policy'`.
   *
   * @defaultValue standardDivisionPolicy
   */
  readonly divisionPolicy?: DivisionPolicy;
  /**
   * Those of the candidates that are disturbances: they keep their limits and divide, but belong to no region.
   *
   * @defaultValue []
   */
  readonly apart?: readonly Candidate[];
  /**
   * Stretches to take as straight, such as spikes.
   *
   * @defaultValue []
   */
  readonly bridged?: readonly BridgedStretch[];
}

const defaults: Required<PlanOptions> = {
  divider: 'drop line',
  divisionPolicy: standardDivisionPolicy,
  apart: [],
  bridged: [],
};

/** A peak while its limits are being settled. */
type Draft = { -readonly [K in keyof ChainedPeak]: ChainedPeak[K] } & {
  /** About the peak, its start and its end, in this order. */
  readonly decisions: Decision[];
};

/** Valley over the lower of two neighbours below which they are separate. */
const separate = 0.02;

/**
 * Decides the limits of every candidate: where it is back at the baseline, or
 * the valley to its neighbour when they touch (the valley stands above a
 * fiftieth of the lower peak), and groups what touches into regions.
 *
 * @param trace - The record.
 * @param candidates - The peaks, for example of {@link findPeaks}; any order.
 * @param baseline - The baseline of the run.
 * @param options - Divider, disturbances and bridged stretches; see {@link PlanOptions}.
 * @returns A plan: plain JSON, every limit with the decision behind it.
 * @throws PeakwrightError `option-unknown` when an option is not one of the above.
 *
 * @public
 */
export function planIntegration(
  trace: Trace,
  candidates: readonly Candidate[],
  baseline: Baseline,
  options: PlanOptions = {},
): IntegrationPlan {
  const { divider, divisionPolicy, apart, bridged } = resolveOptions('planIntegration', defaults, options);
  checkPolicy('planIntegration', divisionPolicy);
  const sorted = [...candidates].sort((a, b) => a.apex - b.apex);
  const used = new Set<string>();
  const drafts = sorted.map((c) => draftOf(c, trace, nameOf(c, used), baseline.id));
  for (let i = 1; i < drafts.length; i++) {
    divide(trace, baseline, [sorted[i - 1]!, sorted[i]!], [drafts[i - 1]!, drafts[i]!], divider);
  }
  const choose = choiceBy(trace, divisionPolicy);
  const groups: Draft[][] = [];
  const aside: Draft[] = [];
  drafts.forEach((draft, i) => {
    const group = groups.at(-1);
    if (!(draft.end > draft.start)) return;
    if (apart.includes(sorted[i]!)) aside.push(draft);
    else if (group && draft.start <= group.at(-1)!.end && draft.startKind !== 'baseline') group.push(draft);
    else groups.push([draft]);
  });
  const sided = { trace, run: baseline, apart: [], hidden: [] };
  const baselines = [baseline];
  const regions = groups.map((group) => {
    const alone = group.length < 2 && group[0]!.startKind !== 'skim' && group[0]!.endKind !== 'skim';
    const laid =
      divider === 'drop line' || alone
        ? { baselines: [], peaks: group.map(unchained) }
        : layDividers({ ...sided, peaks: group }, [baseline], choose);
    baselines.push(...laid.baselines.slice(1));
    return { start: group[0]!.start, end: group.at(-1)!.end, peaks: laid.peaks };
  });
  return defined({
    baselines,
    regions,
    apart: aside.length > 0 ? aside.map(unchained) : undefined,
    bridged: bridged.length > 0 ? bridged : undefined,
  });
}

/** Limits of a candidate as if it stood alone. */
function draftOf(candidate: Candidate, trace: Trace, id: string, baseline: string): Draft {
  const { apex, direction, significance, from, to, fromKind, toKind } = candidate;
  const first = trace.time[0]!;
  const last = trace.time[trace.time.length - 1]!;
  const start = Math.max(first, from);
  const end = Math.min(last, to);
  const startKind = fromKind === 'cut off' || start >= last || start === first ? 'cut off' : 'baseline';
  const endKind = toKind === 'cut off' || end <= first || end === last ? 'cut off' : 'baseline';
  return {
    id,
    apex,
    start,
    end,
    startKind,
    endKind,
    direction,
    baseline,
    decisions: [
      {
        about: 'peak',
        rule: 'stands out of the noise',
        at: apex,
        value: significance,
        text: `Stands ${significance.toPrecision(3)} times its noise above its valleys.`,
      },
      aloneAt('start', start, startKind),
      aloneAt('end', end, endKind),
    ],
  };
}

/** Why a limit lies where it does when no neighbour is near. */
function aloneAt(about: 'start' | 'end', at: number, kind: 'cut off' | 'baseline'): Decision {
  return kind === 'cut off'
    ? { about, rule: 'end of the record', at, text: `The record ${about}s before the signal has reached the baseline.` }
    : {
        about,
        rule: 'back at the baseline',
        at,
        text: 'The signal is back within its noise of the baseline.',
      };
}

/** Settles the limit between two neighbours when their reaches meet. */
function divide(
  trace: Trace,
  baseline: Baseline,
  [before, after]: readonly [Candidate, Candidate],
  [left, right]: readonly [Draft, Draft],
  divider: Divider | 'policy',
): void {
  if (left.end <= right.start && before.toKind !== 'neighbour' && after.fromKind !== 'neighbour') return;
  const same = before.direction === after.direction;
  const sign = before.direction === 'up' ? 1 : -1;
  const sigma = Math.min(before.sigma, after.sigma);
  const { at, height } = findValley(trace, baseline, before.apex, after.apex, sigma, sign, same);
  const value = height / Math.min(Math.abs(before.height), Math.abs(after.height));
  const touching = same && value > separate;
  const kind = !touching ? 'baseline' : divider === 'policy' ? 'drop line' : limitOf(divider);
  const how = divider === 'policy' ? 'by policy' : divider;
  const rule = touching ? `${how} at the valley` : 'meets the baseline';
  const text = touching
    ? `The valley stands at ${(100 * value).toPrecision(3)} % of the lower peak: ${how}.`
    : 'The signal meets the baseline between the neighbours.';
  left.end = right.start = at;
  left.endKind = right.startKind = kind;
  if (touching && divider !== 'drop line') right.divider = divider;
  left.decisions[2] = { about: 'end', rule, at, value, limit: separate, text };
  right.decisions[1] = { about: 'start', rule, at, value, limit: separate, text };
}
