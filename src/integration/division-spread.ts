import type { Baseline } from '../baseline/index.js';
import { checkOneOf, failOption, resolveOptions } from '../core/index.js';
import { estimateNoise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import { areaBetween } from './area-between.js';
import { limitOf, sideBySide, type ChainedPeak } from './chain.js';
import { layDividers } from './divide-by.js';
import { fitRegions } from './fit-regions.js';
import { integrate } from './integrate.js';
import { dividers, type Divider, type IntegrationPlan, type PlannedRegion } from './plan.js';
import { findValley } from './valley.js';

/**
 * Baselines under which {@link divisionSpread} divides a group.
 *
 * @public
 */
export type SpreadBaseline = 'planned' | 'run' | 'straight';

/**
 * Options of {@link divisionSpread}.
 *
 * @public
 */
export interface DivisionSpreadOptions {
  /**
   * Which dividers to try.
   *
   * @defaultValue everyDivider
   */
  readonly dividers?: readonly (Divider | 'fit')[];
  /**
   * On which baselines: the one the group stands on, that of the run, and a straight line from where the group begins to where it ends.
   *
   * @defaultValue everyBaseline
   */
  readonly baselines?: readonly SpreadBaseline[];
}

/**
 * A group of peaks divided in one way.
 *
 * @public
 */
export interface DivisionWay {
  /** By what. */
  readonly divider: Divider | 'fit';
  /** On what. */
  readonly baseline: SpreadBaseline;
  /** [signal unit s] Area of each peak, in the order of the spread's `peaks`. */
  readonly areas: readonly number[];
  /** What was otherwise than asked, for example a drop line where no skim could be laid. */
  readonly remarks: readonly string[];
}

/**
 * A group of peaks under every admissible divider and baseline.
 *
 * @public
 */
export interface DivisionSpread {
  /** `id`s of the peaks in order of time. */
  readonly peaks: readonly string[];
  /** [min] Start of the group. */
  readonly start: number;
  /** [min] End of it. */
  readonly end: number;
  /** Every way that exists. */
  readonly ways: readonly DivisionWay[];
  /** Those that do not, and why. */
  readonly absent: readonly (Pick<DivisionWay, 'divider' | 'baseline'> & {
    /** The reason. */
    readonly why: string;
  })[];
  /** The smallest and the largest area of each peak. */
  readonly spread: readonly {
    /** `id` of the peak. */
    readonly peak: string;
    /** [signal unit s] Smallest. */
    readonly least: number;
    /** [signal unit s] Largest. */
    readonly most: number;
  }[];
}

const everyDivider: readonly (Divider | 'fit')[] = [...dividers, 'fit'];
const everyBaseline: readonly SpreadBaseline[] = ['planned', 'run', 'straight'];
const defaults: Required<DivisionSpreadOptions> = { dividers: everyDivider, baselines: everyBaseline };

/** [-] Half the length over which the level at an end of the group is averaged, in lengths of the group. */
const averaged = 1 / 80;

/**
 * Divides a group of peaks that touch in every admissible way: drop lines,
 * baselines from valley to valley, both skims where they exist, and a fit, each on
 * the baseline of the plan, on that of the run, and on a straight line under the
 * group. The outer limits stay. It shows how much of an area is convention.
 *
 * @param trace - The record.
 * @param plan - Any plan, for example `analysis.plan`; its first baseline is that of the run.
 * @param peak - `id` of one of the peaks of the group.
 * @param options - Dividers and baselines; see {@link DivisionSpreadOptions}.
 * @returns Plain data: the area of every peak in every way, and the least and the most of each.
 * @throws {@link PeakwrightError} `option-invalid` when the plan has no such peak or a divider or baseline is not known,
 *   `option-unknown` for another option, `plan-invalid` for a plan that {@link integrate} would refuse.
 *
 * @example
 * ```ts
 * const { trace } = simulateTrace({
 *   duration: 10,
 *   interval: 0.2,
 *   peaks: [
 *     { shape: 'gaussian', retentionTime: 4, height: 100, sigma: 0.1 },
 *     { shape: 'gaussian', retentionTime: 4.5, height: 20, sigma: 0.1 },
 *   ],
 *   noise: { white: 0.01 },
 *   seed: 1,
 * });
 * const { plan, peaks } = analyse(trace);
 * const { spread } = divisionSpread(trace, plan, peaks[1].id);
 * spread[1].least < 0.8 * spread[1].most; // => true
 * ```
 *
 * @public
 */
export function divisionSpread(
  trace: Trace,
  plan: IntegrationPlan,
  peak: string,
  options: DivisionSpreadOptions = {},
): DivisionSpread {
  const caller = 'divisionSpread';
  const { dividers: wanted, baselines: bases } = resolveOptions(caller, defaults, options);
  wanted.forEach((divider, i) => checkOneOf(caller, `dividers[${i}]`, divider, everyDivider));
  bases.forEach((base, i) => checkOneOf(caller, `baselines[${i}]`, base, everyBaseline));
  const region = plan.regions.find(({ peaks }) => peaks.some(({ id }) => id === peak));
  if (region === undefined) failOption(caller, 'peak', 'the id of a peak of the plan', peak);
  const chain = sideBySide(region.peaks, plan.baselines);
  const peaks = chain.map(({ id }) => id);
  const ways: DivisionWay[] = [];
  const absent: DivisionSpread['absent'][number][] = [];
  for (const baseline of bases) {
    const found = baseOf(trace, plan, region, baseline);
    // A name of its own: what is laid on it is called after the peaks.
    const base = typeof found === 'string' ? found : { ...found, id: `${baseline} baseline` };
    if (typeof base === 'string') {
      absent.push(...wanted.map((divider) => ({ divider, baseline, why: base })));
      continue;
    }
    for (const divider of wanted) {
      const way = divider === 'fit' ? byFit(trace, plan, region, chain, base) : byDivider(trace, chain, base, divider);
      if (typeof way === 'string') absent.push({ divider, baseline, why: way });
      else ways.push({ divider, baseline, ...way });
    }
  }
  const spread = peaks.map((id, i) => {
    const areas = ways.map((way) => way.areas[i]!);
    return { peak: id, least: Math.min(...areas), most: Math.max(...areas) };
  });
  return { peaks, start: region.start, end: region.end, ways, absent, spread: ways.length > 0 ? spread : [] };
}

/** The baseline for a group, or why there is none. */
function baseOf(trace: Trace, plan: IntegrationPlan, region: PlannedRegion, which: SpreadBaseline): Baseline | string {
  const run = plan.baselines[0]!;
  if (which === 'run') return run;
  const lowest = region.peaks.find(({ rides }) => rides === undefined)!;
  const planned = plan.baselines.find(({ id }) => id === lowest.baseline)!;
  if (which === 'planned') {
    if (planned.id === run.id) return 'the group stands on the baseline of the run';
    return planned.kind === 'valley to valley' ? 'the group stands on none of its own' : planned;
  }
  const { start, end } = region;
  const half = averaged * (end - start);
  const level = (t: number): number => {
    const from = Math.max(trace.time[0]!, t - half);
    const to = Math.min(trace.time.at(-1)!, t + half);
    return areaBetween(trace, { id: '', kind: '', time: [0], value: [0] }, from, to) / (60 * (to - from));
  };
  return { id: 'straight under the group', kind: 'straight', time: [start, end], value: [level(start), level(end)] };
}

/** What one way gives, or why it does not exist. */
type Way = Pick<DivisionWay, 'areas' | 'remarks'> | string;

/** The group under one sort of divider. */
function byDivider(trace: Trace, chain: readonly ChainedPeak[], base: Baseline, divider: Divider): Way {
  if (chain.length < 2) return divider === 'drop line' ? measured(trace, chain, [base], []) : 'nothing touches';
  const sign = chain[0]!.direction === 'up' ? 1 : -1;
  const last = chain.length - 1;
  const peaks = chain.map((peak, i): ChainedPeak => ({
    ...peak,
    baseline: base.id,
    ...(i > 0 && { startKind: limitOf(divider), divider }),
    ...(i < last && { endKind: limitOf(divider) }),
  }));
  if (divider === 'valley to valley') {
    for (let i = 1; i <= last; i++) {
      const [a, b] = [chain[i - 1]!, chain[i]!];
      const sigma = Math.min(a.end - a.start, b.end - b.start) / 8;
      if (findValley(trace, base, a.apex, b.apex, sigma, sign, true).isMinimum) continue;
      return `there is no valley between ${a.apex.toFixed(3)} and ${b.apex.toFixed(3)} min`;
    }
  }
  const laid = layDividers({ trace, run: base, peaks, apart: [], hidden: [] }, [base]);
  const remarks = laid.peaks.flatMap(({ decisions }) =>
    decisions.filter(({ rule }) => rule === 'drop line for want of a skim').map(({ text }) => text),
  );
  const isSkim = divider === 'tangent skim' || divider === 'exponential skim';
  if (isSkim && !laid.peaks.some(({ rides }) => rides !== undefined)) return remarks[0] ?? 'nothing touches';
  return measured(trace, laid.peaks, laid.baselines, [...new Set(remarks)]);
}

/** The group under a fit that begins on a baseline. */
function byFit(
  trace: Trace,
  plan: IntegrationPlan,
  region: PlannedRegion,
  chain: readonly ChainedPeak[],
  base: Baseline,
): Way {
  const last = chain.length - 1;
  const peaks = chain
    .filter(({ revealed }) => !revealed)
    .map((peak, i) => ({
      ...peak,
      baseline: base.id,
      ...(i > 0 && { startKind: 'drop line' as const }),
      ...(i < last && { endKind: 'drop line' as const }),
    }));
  const own: PlannedRegion = { start: region.start, end: region.end, peaks };
  const length = region.end - region.start;
  const { standardDeviation } = estimateNoise(trace);
  const step = (trace.time.at(-1)! - trace.time[0]!) / (trace.time.length - 1);
  // The neighbours are in it only so that what nearly touches is fitted together.
  const regions = plan.regions.map((r) =>
    r === region
      ? own
      : {
          start: r.start,
          end: r.end,
          peaks: sideBySide(r.peaks, plan.baselines).map((p) => ({ ...p, baseline: base.id })),
        },
  );
  const fitted = fitRegions(
    trace,
    { baselines: [base], regions },
    (_, over) => standardDeviation / Math.sqrt(Math.max(1, over / step)),
    (r) => r.start > region.end + length || r.end < region.start - length,
  );
  const found = fitted.regions.find((r) => r.peaks.some(({ id }) => id === peaks[0]!.id));
  if (!found?.curves) return 'no fit describes the group';
  const result = integrate(trace, { baselines: fitted.baselines, regions: [found] }).peaks;
  const known = chain.map(({ id, apex, revealed }) =>
    result.find(
      (p) => p.id === id || (revealed && !chain.some((c) => c.id === p.id) && p.start < apex && p.end > apex),
    ),
  );
  if (known.includes(undefined)) return 'the fit does not give every peak of the group';
  const more = result.filter((p) => !known.includes(p));
  return {
    areas: known.map((p) => p!.area),
    remarks: more.map(
      (p) => `The fit gives a peak at ${p.retentionTime.toFixed(3)} min besides, with ${p.area.toPrecision(4)}.`,
    ),
  };
}

function measured(
  trace: Trace,
  peaks: readonly ChainedPeak[],
  baselines: readonly Baseline[],
  remarks: readonly string[],
): Way {
  const start = Math.min(...peaks.map((p) => p.start));
  const end = Math.max(...peaks.map((p) => p.end));
  const onBase = peaks.map((p) =>
    baselines.some(({ id }) => id === p.baseline) ? p : { ...p, baseline: baselines[0]!.id },
  );
  const { peaks: result } = integrate(trace, { baselines, regions: [{ start, end, peaks: onBase }] });
  return { areas: result.map(({ area }) => area), remarks };
}
