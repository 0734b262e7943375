import {
  createTrace,
  defineMethod,
  type Analysis,
  type Disturbance,
  type Peak,
  type RejectedCandidate,
} from '../../src/index.js';

/** A Gaussian on the trace: height, centre and standard deviation. */
export interface FixturePeak {
  readonly at: number;
  readonly sigma: number;
  readonly height: number;
  readonly name?: string;
  /** [min] Limits; four standard deviations either side when absent. */
  readonly start?: number;
  readonly end?: number;
}

/** What an analysis for a picture is made of. */
export interface FixtureRecipe {
  readonly name?: string;
  readonly length?: number;
  readonly minutes?: number;
  readonly unit?: string;
  readonly noise?: number;
  readonly level?: (time: number) => number;
  readonly peaks?: readonly FixturePeak[];
  readonly disturbances?: readonly Disturbance[];
  readonly rejected?: readonly RejectedCandidate[];
  readonly gaps?: Analysis['trace']['gaps'];
}

/**
 * An analysis made by hand: Gaussians on a level, each peak standing on the
 * straight line between the levels at its limits, areas exact. It stands for
 * what an analysis looks like, not for how one is come by.
 */
export function analysisFixture(recipe: FixtureRecipe): Analysis {
  const { length = 2401, minutes = 12, unit = 'mAU', noise = 0, level = () => 0, peaks = [] } = recipe;
  const recorded = (t: number): boolean => !(recipe.gaps ?? []).some((gap) => t > gap.from && t < gap.to);
  const time = Float64Array.from({ length }, (_, i) => (minutes * i) / (length - 1)).filter(recorded);
  const random = uniform(7);
  const signal = time.map((t) => {
    let y = level(t) + noise * (random() + random() + random() + random() - 2) * 1.73;
    for (const peak of peaks) {
      const z = (t - peak.at) / peak.sigma;
      if (z > -9 && z < 9) y += peak.height * Math.exp(-0.5 * z * z);
    }
    return y;
  });
  const made = createTrace({ time, signal, timeUnit: 'min', signalUnit: unit });
  const trace = {
    ...made,
    gaps: recipe.gaps ?? made.gaps,
    meta: { ...made.meta, ...(recipe.name === undefined ? {} : { name: recipe.name }) },
  };
  const limits = peaks.map((peak) => ({
    start: peak.start ?? Math.max(0, peak.at - 4 * peak.sigma),
    end: peak.end ?? Math.min(minutes, peak.at + 4 * peak.sigma),
  }));
  const groups: number[][] = [];
  peaks.forEach((_, i) => {
    const touching = i > 0 && limits[i]!.start <= limits[i - 1]!.end;
    if (touching) groups.at(-1)!.push(i);
    else groups.push([i]);
  });
  const baselines = groups.map((group, k) => {
    const from = limits[group[0]!]!.start;
    const to = limits[group.at(-1)!]!.end;
    return { id: `b${k + 1}`, kind: 'straight', time: [from, to], value: [level(from), level(to)] };
  });
  const total = peaks.reduce((sum, peak) => sum + Math.abs(peak.height * peak.sigma), 0);
  const list: Peak[] = groups.flatMap((group, k) =>
    group.map((i): Peak => {
      const peak = peaks[i]!;
      const { start, end } = limits[i]!;
      const line = baselines[k]!;
      const on = (t: number) =>
        line.value[0]! + ((t - line.time[0]!) / (line.time[1]! - line.time[0]!)) * (line.value[1]! - line.value[0]!);
      return {
        id: `p${i + 1}`,
        ...(peak.name === undefined ? {} : { name: peak.name }),
        retentionTime: peak.at,
        height: peak.height,
        area: peak.height * peak.sigma * 60 * Math.sqrt(2 * Math.PI),
        areaPercent: (100 * Math.abs(peak.height * peak.sigma)) / total,
        start,
        end,
        startKind: i === group[0] ? 'baseline' : 'drop line',
        endKind: i === group.at(-1) ? 'baseline' : 'drop line',
        baselineStart: on(start),
        baselineEnd: on(end),
        baseline: line.id,
        direction: peak.height < 0 ? 'down' : 'up',
        widths: { halfHeight: 2.3548200450309493 * peak.sigma },
        plates: {},
        decisions: [{ about: 'start', rule: 'fixture', at: start, text: 'The start was given by the fixture.' }],
        warnings: [],
      };
    }),
  );
  const { timeUnit, signalUnit, timeOrigin } = trace.meta;
  return {
    trace,
    peaks: list,
    rejected: recipe.rejected ?? [],
    regions: groups.map((group, k) => ({
      start: baselines[k]!.time[0]!,
      end: baselines[k]!.time[1]!,
      area: group.reduce((sum, i) => sum + list[i]!.area, 0),
      peaks: group.map((i) => `p${i + 1}`),
    })),
    baseline: { id: 'run', kind: 'straight', time: [0, minutes], value: [level(0), level(minutes)] },
    noise: { standardDeviation: noise, along: { time: [0], value: [noise] }, correlation: 0 },
    disturbances: recipe.disturbances ?? [],
    warnings: [],
    units: { time: 'min', signal: unit, area: `${unit} s`, provenance: { timeUnit, signalUnit, timeOrigin } },
    method: defineMethod(),
    settings: { ...defineMethod(), peakWidth: 0.05, sharpestBend: 1 },
    plan: {
      baselines,
      regions: groups.map((group, k) => ({
        start: baselines[k]!.time[0]!,
        end: baselines[k]!.time[1]!,
        peaks: group.map((i) => {
          const { id, retentionTime, start, end, startKind, endKind, direction, baseline, decisions } = list[i]!;
          return { id, apex: retentionTime, start, end, startKind, endKind, direction, baseline, decisions };
        }),
      })),
    },
    provenance: { library: 'peakwright fixture' },
  };
}

/** Uniform numbers in [0, 1): a linear congruential generator (Park and Miller 1988), the same on every run. */
function uniform(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
