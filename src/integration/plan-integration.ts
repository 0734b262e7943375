import { baselineAt, type Baseline } from '../baseline/index.js';
import type { Candidate } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';
import type { BridgedStretch, Decision, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
import { signalAt } from './samples.js';
import { findValley } from './valley.js';

/**
 * Options of {@link planIntegration}.
 *
 * @public
 */
export interface PlanOptions {
  /**
   * What divides peaks that touch: a vertical at the valley on one baseline, or
   * a straight baseline of its own under each, from valley to valley.
   *
   * @defaultValue 'drop line'
   */
  readonly divider?: 'drop line' | 'valley to valley';
  /** Those of the candidates that are disturbances: they keep their limits and divide, but belong to no region. */
  readonly apart?: readonly Candidate[];
  /** Stretches to take as straight, such as spikes. */
  readonly bridged?: readonly BridgedStretch[];
}

/** One peak while its limits are being settled. */
interface Draft {
  readonly candidate: Candidate;
  start: number;
  end: number;
  startKind: LimitKind;
  endKind: LimitKind;
  readonly decisions: Decision[];
}

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
 *
 * @public
 */
export function planIntegration(
  trace: Trace,
  candidates: readonly Candidate[],
  baseline: Baseline,
  options: PlanOptions = {},
): IntegrationPlan {
  const { divider = 'drop line', apart = [], bridged = [] } = options;
  const drafts = [...candidates].sort((a, b) => a.apex - b.apex).map((c) => draftOf(c, trace));
  for (let i = 0; i + 1 < drafts.length; i++) divide(trace, baseline, drafts[i]!, drafts[i + 1]!, divider);
  const baselines: Baseline[] = [baseline];
  const regions: PlannedRegion[] = [];
  const aside: PlannedPeak[] = [];
  const used = new Set<string>();
  let group: Draft[] = [];
  const close = () => {
    if (group.length === 0) return;
    const peaks = group.map((d) => plannedPeak(d, baseline, used));
    regions.push({
      start: peaks[0]!.start,
      end: peaks.at(-1)!.end,
      peaks:
        divider === 'valley to valley' && peaks.length > 1
          ? peaks.map((p) => onOwnBaseline(p, trace, baseline, baselines))
          : peaks,
    });
    group = [];
  };
  for (const draft of drafts) {
    if (!(draft.end > draft.start)) continue;
    if (apart.includes(draft.candidate)) {
      aside.push(plannedPeak(draft, baseline, used));
      continue;
    }
    if (group.length > 0 && (draft.start > group.at(-1)!.end || draft.startKind === 'baseline')) close();
    group.push(draft);
  }
  close();
  return {
    baselines,
    regions,
    ...(aside.length > 0 ? { apart: aside } : {}),
    ...(bridged.length > 0 ? { bridged } : {}),
  };
}

/** Limits of a candidate as if it stood alone. */
function draftOf(candidate: Candidate, trace: Trace): Draft {
  const first = trace.time[0]!;
  const last = trace.time[trace.time.length - 1]!;
  const decisions: Decision[] = [
    {
      about: 'peak',
      rule: 'stands out of the noise',
      at: candidate.apex,
      value: candidate.significance,
      text: `Stands ${candidate.significance.toPrecision(3)} times the noise of its own coarseness above the deeper of its valleys.`,
    },
  ];
  const settle = (about: 'start' | 'end', at: number, found: Candidate['fromKind']): LimitKind => {
    const cut = found === 'cut off' || at <= first || at >= last;
    decisions.push({
      about,
      rule: cut ? 'end of the record' : 'back at the baseline',
      at,
      text: cut
        ? `The record ${about === 'start' ? 'begins' : 'ends'} before the signal has reached the baseline.`
        : 'The signal, averaged over about half a standard deviation of the peak, is within its noise of the baseline here.',
    });
    return cut ? 'cut off' : 'baseline';
  };
  const start = Math.max(first, candidate.from);
  const end = Math.min(last, candidate.to);
  return {
    candidate,
    start,
    end,
    startKind: settle('start', start, candidate.fromKind),
    endKind: settle('end', end, candidate.toKind),
    decisions,
  };
}

/** Settles the limit between two neighbours when their reaches meet. */
function divide(
  trace: Trace,
  baseline: Baseline,
  left: Draft,
  right: Draft,
  divider: 'drop line' | 'valley to valley',
): void {
  const meet =
    left.end > right.start || left.candidate.toKind === 'neighbour' || right.candidate.fromKind === 'neighbour';
  if (!meet) return;
  const sigma = Math.min(left.candidate.sigma, right.candidate.sigma);
  const same = left.candidate.direction === right.candidate.direction;
  const sign = left.candidate.direction === 'up' ? 1 : -1;
  const { at, height } = findValley(trace, baseline, left.candidate.apex, right.candidate.apex, sigma, sign, same);
  const lower = Math.min(Math.abs(left.candidate.height), Math.abs(right.candidate.height));
  const share = height / lower;
  const touching = same && share > separate;
  const kind: LimitKind = touching ? (divider === 'drop line' ? 'drop line' : 'valley') : 'baseline';
  const text = touching
    ? `The valley to the neighbour stands at ${(100 * share).toPrecision(3)} % of the lower peak: ${divider === 'drop line' ? 'a drop line there' : 'each has a baseline of its own from valley to valley'}.`
    : 'The signal meets the baseline between the neighbours here.';
  const rule = touching ? `${divider} at the valley` : 'meets the baseline';
  const decide = (about: 'start' | 'end'): Decision => ({ about, rule, at, value: share, limit: separate, text });
  left.end = at;
  left.endKind = kind;
  replace(left.decisions, decide('end'));
  right.start = at;
  right.startKind = kind;
  replace(right.decisions, decide('start'));
}

/** Puts a decision in the place of the one about the same thing. */
function replace(decisions: Decision[], decision: Decision): void {
  decisions[decisions.findIndex((d) => d.about === decision.about)] = decision;
}

/** The finished form, with a name made of its place. */
function plannedPeak(draft: Draft, baseline: Baseline, used: Set<string>): PlannedPeak {
  const { candidate, start, end, startKind, endKind, decisions } = draft;
  const stem = `p${candidate.apex.toFixed(3)}`;
  let id = stem;
  for (let k = 2; used.has(id); k++) id = `${stem}-${k}`;
  used.add(id);
  return {
    id,
    apex: candidate.apex,
    start,
    end,
    startKind,
    endKind,
    direction: candidate.direction,
    baseline: baseline.id,
    decisions,
  };
}

/** The peak on a straight baseline from its start to its end: the signal at a valley, the run's baseline elsewhere. */
function onOwnBaseline(peak: PlannedPeak, trace: Trace, run: Baseline, baselines: Baseline[]): PlannedPeak {
  const level = (t: number, kind: LimitKind) =>
    kind === 'valley' ? signalAt(trace.time, trace.signal, t) : baselineAt(run, t);
  const own: Baseline = {
    id: `under ${peak.id}`,
    kind: 'valley to valley',
    time: [peak.start, peak.end],
    value: [level(peak.start, peak.startKind), level(peak.end, peak.endKind)],
  };
  baselines.push(own);
  return { ...peak, baseline: own.id };
}
