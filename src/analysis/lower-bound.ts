import { firstAtOrAfter } from '../numeric/index.js';
import type { Analysis, Peak } from './analysis.js';

/** What has to be known of a run to say whether an area holds all of a peak. */
type Run = Pick<Analysis, 'trace' | 'disturbances' | 'plan' | 'method'>;

/**
 * Why height and area of a peak are no more than lower bounds, in words that
 * follow a name and a colon; nothing when they are not.
 */
export function lowerBoundOf(
  peak: Pick<Peak, 'start' | 'end' | 'startKind' | 'endKind'>,
  run: Run,
): string | undefined {
  if (peak.startKind === 'cut off' || peak.endKind === 'cut off') return 'cut off by an end of the record';
  const { start, end } = peak;
  if (run.disturbances.some((d) => d.kind === 'saturation' && d.start < end && d.end > start)) {
    return 'the detector was saturated';
  }
  return beyondLinear(peak, run);
}

/** By how much the raw signal of a peak exceeds the stated linear range, in words; nothing when it does not. */
export function beyondLinear(
  { start, end }: Pick<Peak, 'start' | 'end'>,
  { trace, plan, method: { linearUpTo: limit } }: Pick<Run, 'trace' | 'plan' | 'method'>,
): string | undefined {
  if (limit === 'unknown') return undefined;
  const { time, signal, signalUnit } = trace;
  const bridged = plan.bridged ?? [];
  let highest = -Infinity;
  for (let i = firstAtOrAfter(time, start); i < time.length && time[i]! <= end; i++) {
    if (signal[i]! <= limit || signal[i]! <= highest) continue;
    // What is bridged as a spike is not the peak.
    if (!bridged.some(({ from, to }) => time[i]! > from && time[i]! < to)) highest = signal[i]!;
  }
  if (highest === -Infinity) return undefined;
  const [reached, over] = [highest, highest - limit].map((value) => `${value.toPrecision(4)} ${signalUnit}`);
  return `the signal reaches ${reached!}, ${over!} beyond the linear range`;
}
