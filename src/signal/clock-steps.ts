import type { Trace } from '../trace/index.js';

/** A place where the clock of the record moved and the signal did not. */
export interface ClockStep {
  /** [min] Last sample before it. */
  readonly start: number;
  /** [min] First sample after it. */
  readonly end: number;
  /** [min] Interval of the samples on both sides. */
  readonly usual: number;
  /** Whether the signal shows that no time passed, or is too flat there to tell. */
  readonly shown: boolean;
}

/** A place from which on the samples are further apart, or closer. */
export interface RateChange {
  /** [min] The sample between the two rates. */
  readonly at: number;
  /** [min] Interval before. */
  readonly before: number;
  /** [min] Interval after. */
  readonly after: number;
}

/** What is odd about a time axis. */
export interface AxisFaults {
  /** [min] Shortest and longest interval, gaps left out. */
  readonly shortest: number;
  readonly longest: number;
  readonly clockSteps: readonly ClockStep[];
  readonly rateChanges: readonly RateChange[];
}

/** [-] An interval this part off its neighbours, or off a multiple of them, is odd. */
const odd = 0.1;
/** [-] Neighbouring intervals that differ by no more are equal. */
const even = 0.02;
/** Intervals on either side that must be equal. */
const beside = 6;
/** [-] Intervals of this many usual ones and more are gaps, unless the signal speaks against it. */
const gapFactor = 5;
/** Samples on either side from which the slope is taken. */
const reach = 3;
/** [-] What the signal may be off a line and still run on, in noise. */
const runsOn = 6;

/**
 * Looks at the time axis: clock steps are single intervals, between equal ones, that are no
 * multiple of those, and over which the signal runs on as if one usual interval had passed;
 * where time really passed the signal shows it, unless it is flat. Jitter and printed
 * rounding have no equal intervals, and give none. The limits are our own.
 *
 * @param deviation - [signal unit] Noise of a reading.
 */
export function findAxisFaults({ time, signal, gaps }: Trace, deviation: number): AxisFaults {
  const n = time.length;
  let shortest = Infinity;
  let longest = 0;
  for (let i = 1; i < n; i++) {
    const interval = time[i]! - time[i - 1]!;
    shortest = Math.min(shortest, interval);
    longest = Math.max(longest, interval);
  }
  const clockSteps: ClockStep[] = [];
  const rateChanges: RateChange[] = [];
  if (longest <= (1 + odd) * shortest) return { shortest, longest, clockSteps, rateChanges };
  const interval = (i: number): number => time[i]! - time[i - 1]!;
  /** Mean of the intervals from a to b, both included, when they are equal. */
  const equal = (a: number, b: number): number | undefined => {
    if (a < 1 || b >= n) return undefined;
    const mean = (time[b]! - time[a - 1]!) / (b - a + 1);
    for (let i = a; i <= b; i++) if (Math.abs(interval(i) - mean) > even * mean) return undefined;
    return mean;
  };
  longest = 0;
  const inGap = new Set(gaps.map(({ to }) => to));
  for (let i = 1; i < n; i++) {
    const own = interval(i);
    if (!inGap.has(time[i]!)) longest = Math.max(longest, own);
    if (i < 2 || i > n - 2 || Math.abs(own - interval(i - 1)) <= odd * interval(i - 1)) continue;
    const before = equal(i - beside, i - 1);
    if (before === undefined) continue;
    const next = equal(i, i + beside - 1);
    if (next !== undefined) {
      rateChanges.push({ at: time[i - 1]!, before, after: next });
      continue;
    }
    const after = equal(i + 1, i + beside);
    if (after === undefined || Math.abs(after - before) > even * before) continue;
    const multiple = own / before;
    const isMultiple = Math.abs(multiple - Math.round(multiple)) <= odd;
    const slopeBefore = (signal[i - 1]! - signal[i - 1 - reach]!) / reach / before;
    const slopeAfter = (signal[i + reach]! - signal[i]!) / reach / after;
    const slope = (slopeBefore + slopeAfter) / 2;
    const change = signal[i]! - signal[i - 1]!;
    const turn = Math.abs(slopeAfter - slopeBefore);
    /** What the signal may be off the line over a time, by the noise of both ends and of the slope, and by its bend. */
    const loose = (noises: number, over: number): number =>
      noises * deviation * Math.sqrt(2 + ((over / before / reach) * over) / before / reach) + turn * over;
    const continues = Math.abs(change - slope * before) <= loose(runsOn, before);
    const shown = Math.abs(change - slope * own) > loose(runsOn, own);
    // A signal that is flat tells nothing: a long interval is a gap then, and one of a few usual ones readings left out.
    if (!continues || (!shown && (isMultiple || multiple > gapFactor))) continue;
    // Where it is steep enough to tell, and agrees with the clock, time has passed.
    if (!shown && Math.abs(slope * (own - before)) > loose(runsOn, own)) continue;
    clockSteps.push({ start: time[i - 1]!, end: time[i]!, usual: before, shown });
  }
  return { shortest, longest, clockSteps, rateChanges };
}
