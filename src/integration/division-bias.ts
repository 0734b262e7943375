import type { Baseline } from '../baseline/index.js';
import { checkPositive, defined } from '../core/index.js';
import { emgMode } from '../shapes/index.js';
import type { Trace } from '../trace/index.js';
import { meet, sideBySide, type ChainedPeak } from './chain.js';
import { divideSampled, samplePair, type SampledPair } from './divide-pair.js';
import { situationOf } from './division-policy.js';
import { pairOf, type EmgPair } from './pair-shape.js';
import { dividers, type Divider, type IntegrationPlan, type PlannedPeak } from './plan.js';

/**
 * What the dividers of one peak are estimated to have done to its area.
 *
 * @public
 */
export interface DivisionBias {
  /** `id` of the peak. */
  readonly peak: string;
  /** [signal unit s] Divided less true area, with the sign of the area's peak; above 0 for a peak that got too much of a positive signal. */
  readonly bias: number;
  /** The neighbour beside which no divider comes within the bias that is allowed. */
  readonly worst?: {
    /** `id` of the neighbour. */
    readonly beside: string;
    /** [-] The smallest bias any divider has there, in parts of the true area, without sign. */
    readonly least: number;
    /** [-] Resolution of the two, from widths at half height. */
    readonly resolution: number;
    /** [-] Resolution from which one of the dividers would do; absent when none up to 8 would. */
    readonly enough?: number;
  };
}

/**
 * Estimates how far each conventionally divided peak of a plan is off by its
 * dividers. For every two neighbours two exponentially modified Gaussians are
 * constructed with the found heights, distance, widths and tailing, added up,
 * divided by the same code at the same place, and compared with their true areas.
 * A peak between two others has the sum of what both sides do.
 *
 * Nothing is corrected: it is an estimate for the uncertainty. It is as right as
 * the shapes; peaks of a region that curves divide have none, because there the
 * shares of the curves are the areas.
 *
 * @param trace - The record.
 * @param plan - What was decided.
 * @param mostBias - [-] Bias, in parts of the true area, that one of the dividers has to come within.
 * @returns One entry for each peak with a divider whose neighbours show shapes, in the order of the plan.
 * @throws {@link PeakwrightError} `option-invalid` when `mostBias` is not above 0.
 *
 * @example
 * ```ts
 * const { trace } = simulateTrace({
 *   duration: 10,
 *   interval: 0.2,
 *   peaks: [
 *     { shape: 'gaussian', retentionTime: 4, height: 100, sigma: 0.1 },
 *     { shape: 'gaussian', retentionTime: 4.4, height: 20, sigma: 0.1 },
 *   ],
 *   seed: 1,
 * });
 * const { plan } = analyse(trace, { divider: 'drop line' });
 * const [large, small] = divisionBias(trace, plan);
 * large.bias > 0; // => true
 * small.bias < 0; // => true
 * ```
 *
 * @public
 */
export function divisionBias(trace: Trace, plan: IntegrationPlan, mostBias = 0.05): DivisionBias[] {
  checkPositive('divisionBias', 'mostBias', mostBias);
  const baselines = new Map(plan.baselines.map((b) => [b.id, b]));
  const run = plan.baselines[0]!;
  return plan.regions.flatMap((region) => {
    if (region.peaks.length < 2 || region.curves) return [];
    const chain = sideBySide(region.peaks, plan.baselines);
    const biases = chain.map(({ id }): { -readonly [K in keyof DivisionBias]: DivisionBias[K] } => ({
      peak: id,
      bias: 0,
    }));
    const seen = new Set<string>();
    for (let i = 1; i < chain.length; i++) {
      const [left, right] = [chain[i - 1]!, chain[i]!];
      if (!meet(left, right)) continue;
      const base = underBoth(region.peaks, left, right, baselines) ?? run;
      const pair = pairOf(trace, base, left, right);
      if (pair === undefined) continue;
      const sampled = samplePair(pair);
      const divided = divideSampled(sampled, dividerOf(right), left.end, left.start, right.end);
      if (divided === undefined) continue;
      const sign = left.direction === 'up' ? 60 : -60;
      ([left, right] as const).forEach(({ id }, side) => {
        const own = biases[i - 1 + side]!;
        seen.add(id);
        own.bias += sign * (divided[side as 0 | 1] - sampled.areas[side as 0 | 1]);
        const least = leastBias(sampled, side as 0 | 1, left.end);
        if (least <= Math.max(mostBias, own.worst?.least ?? 0)) return;
        own.worst = defined({
          beside: side === 0 ? right.id : left.id,
          least,
          resolution: situationOf(pair, 0).resolution,
          enough: enoughResolution(pair, side as 0 | 1, mostBias),
        });
      });
    }
    return biases.filter(({ peak }) => seen.has(peak));
  });
}

/** What the larger of two neighbours stands on: the baseline of one that carries the other, or of both. */
function underBoth(
  peaks: readonly PlannedPeak[],
  left: PlannedPeak,
  right: PlannedPeak,
  baselines: ReadonlyMap<string, Baseline>,
): Baseline | undefined {
  const planned = (id: string) => peaks.find((p) => p.id === id)!;
  const [a, b] = [planned(left.id), planned(right.id)];
  const lower =
    a.rides === b.rides ? a : a.rides === undefined ? a : b.rides === undefined ? b : a.rides === b.id ? b : a;
  const found = baselines.get(lower.baseline);
  // A baseline of a peak's own is what the divider did, and not what the two stand on.
  return found?.kind === 'valley to valley' ? undefined : found;
}

function dividerOf({ divider, startKind }: ChainedPeak): Divider {
  if (divider !== undefined && divider !== 'policy') return divider;
  return startKind === 'valley' ? 'valley to valley' : 'drop line';
}

/** [-] The smallest bias that any divider has for one of a pair, in parts of its area. */
function leastBias(pair: SampledPair, side: 0 | 1, valley = pair.valley): number {
  const biases = dividers.map((divider) => {
    const areas = divideSampled(pair, divider, valley);
    return areas ? Math.abs(areas[side] / pair.areas[side] - 1) : Infinity;
  });
  return Math.min(...biases);
}

const mostResolution = 8;
const halvings = 12;

/** [-] Resolution at which the two, moved apart, are divided well enough by one of the dividers. */
function enoughResolution(pair: EmgPair, side: 0 | 1, mostBias: number): number | undefined {
  const [a, b] = pair.curves;
  const { resolution } = situationOf(pair, 0);
  const distance = emgMode(b) - emgMode(a);
  const fails = (at: number): boolean => {
    const moved = { ...b, mean: b.mean + distance * (at / resolution - 1) };
    const sampled = samplePair({ ...pair, curves: [a, moved] });
    return sampled.valley === undefined || leastBias(sampled, side) > mostBias;
  };
  let low = resolution;
  let high = Math.max(1, resolution);
  while (fails(high)) {
    low = high;
    high *= 1.25;
    if (high > mostResolution) return undefined;
  }
  for (let i = 0; i < halvings && high - low > 0.005; i++) {
    const middle = (low + high) / 2;
    if (fails(middle)) low = middle;
    else high = middle;
  }
  return high;
}
