import { baselineAt, type Baseline } from '../baseline/index.js';
import type { Candidate } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';
import type { Decision, IntegrationPlan, LimitKind, PlannedPeak, PlannedRegion } from './plan.js';
import { findValley } from './valley.js';

/** One peak while its limits are being settled. */
interface Draft {
  readonly candidate: Candidate;
  start: number;
  end: number;
  startKind: LimitKind;
  endKind: LimitKind;
  readonly decisions: Decision[];
}

/**
 * Decides the limits of every candidate: where it meets the baseline, or the
 * valley to its neighbour when they touch.
 */
export function planIntegration(trace: Trace, candidates: readonly Candidate[], baseline: Baseline): IntegrationPlan {
  const drafts = [...candidates].sort((a, b) => a.apex - b.apex).map((c) => draftOf(c, trace));
  for (let i = 0; i + 1 < drafts.length; i++) divide(trace, baseline, drafts[i]!, drafts[i + 1]!);
  const regions: PlannedRegion[] = [];
  let group: Draft[] = [];
  const used = new Set<string>();
  const close = () => {
    if (group.length === 0) return;
    regions.push({ start: group[0]!.start, end: group.at(-1)!.end, peaks: group.map((d) => plannedPeak(d, baseline, used)) });
    group = [];
  };
  for (const draft of drafts) {
    if (group.length > 0 && draft.start > group.at(-1)!.end) close();
    group.push(draft);
  }
  close();
  return { baselines: [baseline], regions };
}

/** Limits of a candidate as if it stood alone. */
function draftOf(candidate: Candidate, trace: Trace): Draft {
  const first = trace.time[0]!;
  const last = trace.time[trace.time.length - 1]!;
  const decisions: Decision[] = [];
  const kind = (about: 'start' | 'end', at: number, found: Candidate['fromKind']): LimitKind => {
    const cut = found === 'cut off' || at <= first || at >= last;
    decisions.push({
      about,
      rule: cut ? 'end of the record' : 'back at the baseline',
      at,
      text: cut
        ? `The record ${about === 'start' ? 'begins' : 'ends'} before the signal has reached the baseline.`
        : `The signal, averaged over about half a standard deviation of the peak, is within the noise of the baseline.`,
    });
    return cut ? 'cut off' : 'baseline';
  };
  return {
    candidate,
    start: candidate.from,
    end: candidate.to,
    startKind: kind('start', candidate.from, candidate.fromKind),
    endKind: kind('end', candidate.to, candidate.toKind),
    decisions,
  };
}

/** Settles the limit between two neighbours when their reaches meet. */
function divide(trace: Trace, baseline: Baseline, left: Draft, right: Draft): void {
  const overlap = left.end > right.start || left.candidate.toKind === 'neighbour' || right.candidate.fromKind === 'neighbour';
  if (!overlap) return;
  const sigma = Math.min(left.candidate.sigma, right.candidate.sigma);
  const same = left.candidate.direction === right.candidate.direction;
  const sign = left.candidate.direction === 'up' ? 1 : -1;
  const valley = findValley(trace, baseline, left.candidate.apex, right.candidate.apex, sigma, sign, same);
  const touching = same && Math.abs(valley.height) > 0.02 * Math.min(Math.abs(left.candidate.height), Math.abs(right.candidate.height));
  const kind: LimitKind = touching ? 'drop line' : 'baseline';
  const at = valley.at;
  const text = touching
    ? `The valley to the neighbour stands ${valley.height.toPrecision(3)} above the baseline: a drop line there.`
    : `The signal meets the baseline between the neighbours.`;
  const decision = (about: string): Decision => ({ about, rule: touching ? 'drop line at the valley' : 'meets the baseline', at, value: valley.height, text });
  left.end = at;
  left.endKind = kind;
  replace(left.decisions, decision('end'));
  right.start = at;
  right.startKind = kind;
  replace(right.decisions, decision('start'));
}

function replace(decisions: Decision[], decision: Decision): void {
  const i = decisions.findIndex((d) => d.about === decision.about);
  if (i >= 0) decisions[i] = decision;
  else decisions.push(decision);
}

/** The finished form, with a name made of its place. */
function plannedPeak(draft: Draft, baseline: Baseline, used: Set<string>): PlannedPeak {
  const stem = `p${draft.candidate.apex.toFixed(3)}`;
  let id = stem;
  for (let k = 2; used.has(id); k++) id = `${stem}-${k}`;
  used.add(id);
  return {
    id,
    apex: draft.candidate.apex,
    start: draft.start,
    end: draft.end,
    startKind: draft.startKind,
    endKind: draft.endKind,
    direction: draft.candidate.direction,
    baseline: baseline.id,
    decisions: draft.decisions,
  };
}

export { baselineAt };
