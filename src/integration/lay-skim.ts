import type { Baseline } from '../baseline/index.js';
import { exp, liftPeak, liftStretch, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { levelAt } from './local-level.js';
import type { PlannedPeak } from './plan.js';
import { exponentialLine, tailRate, type TailRate } from './tail-rate.js';
import { meetingPoint, touchingPoint, type SkimQuestion } from './touching-point.js';
import { findValley } from './valley.js';

/** A skim between two peaks as it is asked for. */
export interface WantedSkim {
  readonly kind: 'tangent skim' | 'exponential skim';
  /** The peak next to the valley that is left what lies under the skim. */
  readonly parent: PlannedPeak;
  /** The peaks beyond the valley that ride together, in order of time. */
  readonly riders: readonly PlannedPeak[];
  /** [min] The valley. */
  readonly valley: number;
  /** [min] As far as the skim may go. */
  readonly room: number;
  /** Whether the signal is back at the baseline there, so that a tangent may end there without touching before. */
  readonly open: boolean;
  /** What the larger peak stands on. */
  readonly base: Baseline;
}

/** A skim that was laid. */
export interface LaidSkim {
  readonly baseline: Baseline;
  /** [min] Where it ends. */
  readonly end: number;
  /** [signal unit] Level of the record there and at the valley. */
  readonly levels: readonly [atValley: number, atEnd: number];
  /** How it was laid, in a sentence. */
  readonly text: string;
}

/** Whether a baseline is a skim, and of which sort. */
export function skimKind({ kind }: Pick<Baseline, 'kind'>): WantedSkim['kind'] | undefined {
  return kind === 'tangent skim' || kind === 'exponential skim' ? kind : undefined;
}

/** Lays a skim; the reason when there is none. */
export function laySkim(
  trace: Pick<Trace, 'time' | 'signal'>,
  wanted: WantedSkim,
): LaidSkim | { readonly why: string } {
  const { kind, parent, riders, valley, room, open, base } = wanted;
  const sign = parent.direction === 'up' ? 1 : -1;
  const behind = room > valley;
  const nearest = riders.at(behind ? 0 : -1)!;
  const question = skimQuestion(trace, sign, riders, valley, room, riders.at(behind ? -1 : 0)!.apex);
  if (question === undefined) {
    return { why: `the peak at ${nearest.apex.toFixed(3)} min has no width above the valley` };
  }
  const { level, sigma } = question;
  const [before, after] = behind ? [parent.apex, nearest.apex] : [nearest.apex, parent.apex];
  if (!findValley(trace, base, before, after, sigma, sign, true).isMinimum) {
    return { why: `the signal has no valley between ${before.toFixed(3)} and ${after.toFixed(3)} min` };
  }
  const id = `skim under ${highest(trace, base, riders, sign).id}`;
  const place = (t: number) => `${t.toFixed(4)} min`;
  if (kind === 'tangent skim') {
    const touch = touchingPoint(question);
    if (!touch.inside && !open)
      return { why: `the tangent from ${place(valley)} touches the signal nowhere before ${place(room)}` };
    const ends: [number, number][] = [
      [valley, sign * level],
      [touch.at, sign * touch.level],
    ];
    if (!behind) ends.reverse();
    const baseline = { id, kind, time: ends.map(([t]) => t), value: ends.map(([, y]) => y) };
    const how = touch.inside ? 'touches the signal again' : 'ends where the signal is back at the baseline';
    return {
      baseline,
      end: touch.at,
      levels: [sign * level, sign * touch.level],
      text: `A straight line from the valley at ${place(valley)} (${level.toPrecision(4)}) ${how} at ${place(touch.at)} (${touch.level.toPrecision(4)}).`,
    };
  }
  const height = level - sign * polylineAt(base, valley);
  const rate = tailOf(trace, base, parent, valley, sign);
  if (!(height > 0)) return { why: 'the valley reaches down to the baseline' };
  if (rate === undefined) return { why: 'the larger peak falls nowhere before the valley' };
  const decay = (t: number): number => height * exp(-rate.rate * Math.abs(t - valley));
  const meet = meetingPoint(question, (t) => sign * polylineAt(base, t) + decay(t));
  const line = exponentialLine(base, valley, meet.at, (t) => sign * decay(t), rate.rate);
  const how = meet.inside ? 'meets the signal again' : 'stays below the signal and ends';
  return {
    baseline: { id, kind, ...line },
    end: meet.at,
    levels: [sign * level, sign * meet.level],
    text: `An exponential from the valley at ${place(valley)} (${height.toPrecision(4)} above the baseline), falling by ${rate.rate.toPrecision(4)} per minute as the larger peak does at ${place(rate.at)}, ${how} at ${place(meet.at)}.`,
  };
}

/** How fast a peak decays before a valley. */
export function tailOf(
  { time, signal }: Pick<Trace, 'time' | 'signal'>,
  base: Baseline,
  { start, end, apex }: PlannedPeak,
  valley: number,
  sign: 1 | -1,
): TailRate | undefined {
  const flank = liftPeak(time, signal, base, Math.min(start, valley), Math.max(end, valley), sign, apex);
  const tail = liftStretch(time, signal, base, Math.min(apex, valley), Math.max(apex, valley), sign);
  return tailRate(tail, apex, valley, valley > apex ? flank.back : flank.front);
}

/** The record as a skim from a valley sees it; nothing when a peak that would ride has no width above the valley. */
export function skimQuestion(
  { time, signal }: Pick<Trace, 'time' | 'signal'>,
  sign: 1 | -1,
  riders: readonly PlannedPeak[],
  valley: number,
  room: number,
  apex: number,
): SkimQuestion | undefined {
  const sigma = Math.min(...riders.map((rider) => narrowest({ time, signal }, rider, sign)));
  if (!(sigma > 0)) return undefined;
  const from = Math.max(time[0]!, Math.min(valley, room) - sigma);
  const to = Math.min(time[time.length - 1]!, Math.max(valley, room) + sigma);
  const curve = liftStretch(time, signal, { time: [0], value: [0] }, from, to, sign);
  const record = { time, value: signal };
  return { record, curve, sign, valley, level: levelAt(record, valley, sigma, sign).value, apex, room, sigma };
}

/** [min] Standard deviation of the narrower flank of a peak above the straight line between its limits. */
function narrowest(trace: Pick<Trace, 'time' | 'signal'>, { start, end, apex }: PlannedPeak, sign: 1 | -1): number {
  const signal = { time: trace.time, value: trace.signal };
  const line = { time: [start, end], value: [polylineAt(signal, start), polylineAt(signal, end)] };
  const { front, back } = liftPeak(trace.time, trace.signal, line, start, end, sign, apex);
  const sides = [front, back].filter((side) => side > 0);
  return sides.length > 0 ? Math.min(...sides) : 0;
}

/** The highest of some peaks above a baseline. */
export function highest(
  trace: Pick<Trace, 'time' | 'signal'>,
  base: Baseline,
  peaks: readonly PlannedPeak[],
  sign: 1 | -1,
): PlannedPeak {
  const signal = { time: trace.time, value: trace.signal };
  const height = ({ apex }: PlannedPeak): number => sign * (polylineAt(signal, apex) - polylineAt(base, apex));
  return peaks.reduce((a, b) => (height(b) > height(a) ? b : a));
}
