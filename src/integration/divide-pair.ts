import { locateApex, polylineAt } from '../numeric/index.js';
import { emg, emgMode, type EmgShape } from '../shapes/index.js';
import { areaBetween } from './area-between.js';
import { laySkim } from './lay-skim.js';
import type { EmgPair } from './pair-shape.js';
import type { Divider, PlannedPeak } from './plan.js';

/** [1/sigma] Samples of the constructed pair. */
const perSigma = 25;
const mostSamples = 6000;

/** Two curves as a record of their own, sampled without noise. */
export interface SampledPair {
  readonly time: Float64Array;
  readonly signal: Float64Array;
  /** [min] The deepest place between the apexes; nothing when the sum falls all the way. */
  readonly valley: number | undefined;
  readonly apexes: readonly [number, number];
  /** [y unit min] The true areas. */
  readonly areas: readonly [number, number];
  readonly smaller: 0 | 1;
}

/** Draws a pair from where it rises to where it has died away. */
export function samplePair({ curves, smaller }: EmgPair): SampledPair {
  const [a, b] = curves;
  const from = Math.min(edge(a, -1), edge(b, -1));
  const to = Math.max(edge(a, 1), edge(b, 1));
  const count = Math.min(mostSamples, Math.ceil(((to - from) * perSigma) / Math.min(a.sigma, b.sigma)) + 1);
  const time = Float64Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
  const signal = time.map((t) => emg(t, a) + emg(t, b));
  const apexes = [emgMode(a), emgMode(b)] as const;
  let deepest = -1;
  for (let i = 1; i < count - 1; i++) {
    if (time[i - 1]! <= apexes[0] || time[i + 1]! >= apexes[1]) continue;
    const low = signal[i]! <= signal[i - 1]! && signal[i]! <= signal[i + 1]!;
    if (low && (deepest < 0 || signal[i]! < signal[deepest]!)) deepest = i;
  }
  const isValley = deepest > 0;
  const valley = isValley
    ? locateApex(time, signal, {
        approx: time[deepest]!,
        start: apexes[0],
        end: apexes[1],
        sign: -1,
        sigma: Math.min(a.sigma, b.sigma) / 2,
      })
    : undefined;
  return { time, signal, valley: valley?.time, apexes, areas: [a.area, b.area], smaller };
}

/** [x unit] Where a curve has died away on one side. */
function edge({ mean, sigma, tau }: EmgShape, side: 1 | -1): number {
  return mean + side * 8 * sigma + (side * tau > 0 ? 16 * tau : 0);
}

/**
 * Divides a pair as the library divides a record, by the same code.
 *
 * @param valley - Where; by default the valley of the pair.
 * @param from - [min] Where the group begins and ends for baselines from valley to valley; by default where the pair does.
 * @returns [y unit min] What each gets; nothing when the divider does not exist.
 */
export function divideSampled(
  pair: SampledPair,
  divider: Divider,
  valley: number | undefined = pair.valley,
  from: number = pair.time[0]!,
  to: number = pair.time.at(-1)!,
): readonly [number, number] | undefined {
  if (valley === undefined) return undefined;
  const { time, signal, smaller, apexes } = pair;
  const record = { time, signal };
  const flat = { id: 'run', kind: 'straight', time: [0], value: [0] };
  const first = time[0]!;
  const last = time.at(-1)!;
  const before = areaBetween(record, flat, first, valley) / 60;
  const after = areaBetween(record, flat, valley, last) / 60;
  if (divider === 'drop line') return [before, after];
  if (divider === 'valley to valley') {
    const level = polylineAt({ time, value: signal }, valley);
    return [before - (level * (valley - from)) / 2, after - (level * (to - valley)) / 2];
  }
  const planned = (i: 0 | 1): PlannedPeak => ({
    id: `${i}`,
    apex: apexes[i],
    start: i === 0 ? first : valley,
    end: i === 0 ? valley : last,
    startKind: 'baseline',
    endKind: 'baseline',
    direction: 'up',
    baseline: 'run',
    decisions: [],
  });
  const skim = laySkim(record, {
    kind: divider,
    parent: planned(smaller === 1 ? 0 : 1),
    riders: [planned(smaller)],
    valley,
    room: smaller === 1 ? last : first,
    open: true,
    base: flat,
  });
  if ('why' in skim) return undefined;
  const rider = areaBetween(record, skim.baseline, Math.min(valley, skim.end), Math.max(valley, skim.end)) / 60;
  return smaller === 1 ? [before + after - rider, rider] : [rider, before + after - rider];
}
