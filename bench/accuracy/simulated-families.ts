import type { NoiseRecipe, PeakRecipe, TraceRecipe } from '../../src/index.js';
import type { Run } from './make-run.js';
import { createRandom, type Random } from './random.js';
import { makeSimulatedRun } from './simulated-run.js';

/**
 * Families made by the library's own simulation: shapes outside the family that is
 * fitted, and what the base families have too little of.
 */
type Builder = (random: Random) => TraceRecipe;
type Maker = (random: Random, retentionTime: number, height: number, sigma: number) => PeakRecipe;

const sign = (random: Random, positive: number): number => (random.chance(positive) ? 1 : -1);

const logNormal: Maker = (random, retentionTime, height, sigma) => {
  const skew = sign(random, 0.75) * random.uniform(0.06, 0.4);
  return { shape: 'log-normal', retentionTime, height, sigma, skew };
};
const split: Maker = (random, retentionTime, height, sigma) => {
  const wide = sigma * random.uniform(1.1, 2.1);
  const [before, after] = random.chance(0.75) ? [sigma, wide] : [wide, sigma];
  return { shape: 'split-gaussian', retentionTime, height, sigma: before, sigmaAfter: after };
};
const overloaded: Maker = (random, retentionTime, height, sigma) => {
  const overload = sign(random, 0.8) * random.logUniform(0.3, 8);
  return { shape: 'haarhoff-van-der-linde', retentionTime, height, sigma, overload };
};
const slowSites: Maker = (random, retentionTime, height, sigma) => {
  const slowFraction = random.uniform(0.01, 0.12);
  const slowTau = sigma * random.uniform(2.5, 8);
  return { shape: 'emg-with-slow-tail', retentionTime, height, sigma, slowFraction, slowTau };
};
const polynomial: Maker = (random, retentionTime, height, sigma) => {
  const slope = sign(random, 0.75) * random.uniform(0.04, 0.25);
  const curvature = random.chance(0.5) ? random.uniform(0, 0.03) / sigma : 0;
  return { shape: 'polynomial-gaussian', retentionTime, height, sigma, slope, curvature };
};
const outside: Maker = (random, ...peak) =>
  random.pick([logNormal, split, overloaded, slowSites, polynomial])(random, ...peak);
const inside: Maker = (random, retentionTime, height, sigma) =>
  random.chance(0.4)
    ? { shape: 'gaussian', retentionTime, height, sigma }
    : { shape: 'emg', retentionTime, height, sigma, tau: sigma * random.uniform(0.2, 1.2) };

interface Column {
  readonly duration: number;
  readonly holdUp: number;
  readonly sigmaAt: (time: number) => number;
}

function makeColumn(random: Random, plates: readonly [number, number] = [2000, 20000]): Column {
  const duration = random.logUniform(6, 30);
  const count = random.logUniform(...plates);
  const device = random.uniform(0.004, 0.02);
  return {
    duration,
    holdUp: Math.max(0.4, duration * random.uniform(0.04, 0.12)),
    sigmaAt: (t) => Math.sqrt((t * t) / count + device * device),
  };
}

/** Times of at most `count` peaks at least `apart` sigma apart. */
function placeTimes(random: Random, column: Column, count: number, apart: number): number[] {
  const times: number[] = [];
  for (let attempt = 0; attempt < count * 60 && times.length < count; attempt++) {
    const t = random.logUniform(column.holdUp * 1.6, column.duration * 0.92);
    if (t + 8 * column.sigmaAt(t) > column.duration) continue;
    if (times.every((o) => Math.abs(o - t) > (apart / 2) * (column.sigmaAt(o) + column.sigmaAt(t)))) times.push(t);
  }
  return times.sort((a, b) => a - b);
}

function makeNoise(random: Random, interval: number, low = 0.005, high = 0.1): NoiseRecipe {
  const level = random.logUniform(low, high);
  const slow = random.chance(0.5) ? 0 : random.uniform(0.3, 1);
  const white = level * Math.sqrt(1 - slow * slow);
  if (slow === 0) return { white };
  return { white, correlated: { standardDeviation: level * slow, timeConstant: interval * random.uniform(0.6, 4) } };
}

/** [mAU] Standard deviation of one reading. */
const levelOf = ({ noise: { white = 0, correlated } = {} }: TraceRecipe): number =>
  Math.hypot(white, correlated?.standardDeviation ?? 0);

/** [s] An interval a detector offers that puts 2.5 to 30 samples into the narrowest sigma. */
function makeInterval(random: Random, column: Column): number {
  const narrowest = column.sigmaAt(column.holdUp * 1.6) * 60;
  const wanted = Math.min(narrowest / random.logUniform(2.5, 30), (column.duration * 60) / 3000);
  return [1, 0.8, 0.5, 0.4, 0.25, 0.2, 0.125, 0.1, 0.08, 0.05].find((s) => s <= wanted) ?? 0.05;
}

/** What all runs share. */
function common(
  random: Random,
  column: Column,
  peaks: readonly PeakRecipe[],
  noiseRange?: readonly [number, number],
): TraceRecipe {
  // prettier-ignore
  const interval = makeInterval(random, column);
  const noise = makeNoise(random, interval, ...(noiseRange ?? []));
  return {
    duration: column.duration,
    interval,
    peaks,
    baseline: {
      offset: random.pick([0, random.uniform(-2, 2), random.logUniform(0.1, 300)]),
      drift: random.chance(0.6) ? random.normal() * 1.5 : 0,
    },
    noise,
  };
}

const height = (random: Random): number => random.logUniform(1, 1500);

const alone =
  (maker: Maker): Builder =>
  (random) => {
    const column = makeColumn(random);
    const times = placeTimes(random, column, random.whole(2, 7), 34);
    return common(random, column, times.map((t) => maker(random, t, height(random), column.sigmaAt(t)))); // prettier-ignore
  };

/** Pairs `apart` sigma apart, the second `ratio` times as tall as the first; some have a third. */
const pairs =
  (maker: Maker, apart: readonly [number, number], ratio: readonly [number, number], triples: number): Builder =>
  (random) => {
    const column = makeColumn(random);
    const peaks: PeakRecipe[] = [];
    for (const t of placeTimes(random, column, random.whole(2, 4), 44)) {
      const s = column.sigmaAt(t);
      const h = random.logUniform(5, 1000);
      const members = random.chance(triples) ? 3 : 2;
      let at = t;
      for (let k = 0; k < members; k++) {
        peaks.push(maker(random, at, k === 0 ? h : h * random.logUniform(...ratio), s));
        at += s * random.uniform(...apart);
      }
    }
    return common(random, column, peaks, [0.005, 0.06]);
  };

const riders: Builder = (random) => {
  const column = makeColumn(random);
  const peaks = placeTimes(random, column, random.whole(1, 3), 60).flatMap((t): PeakRecipe[] => {
    const s = column.sigmaAt(t);
    const h = random.logUniform(50, 1500);
    const away = t + s * random.uniform(5, 11);
    return [
      outside(random, t, h, s),
      (random.chance(0.5) ? outside : inside)(random, away, h * random.logUniform(0.004, 0.08), column.sigmaAt(away)),
    ];
  });
  return common(random, column, peaks, [0.005, 0.06]);
};

const crowded: Builder = (random) => {
  const column = makeColumn(random, [6000, 20000]);
  const times = placeTimes(random, column, random.whole(12, 24), random.uniform(4.5, 7));
  return common(random, column, times.map((t) => outside(random, t, random.logUniform(2, 800), column.sigmaAt(t))), [0.005, 0.06]); // prettier-ignore
};

/** Dip then rise, rise then dip, or a dip alone, at the hold-up time. */
function voidSwing(
  random: Random,
  { holdUp, sigmaAt }: Column,
  level: number,
): NonNullable<TraceRecipe['disturbances']>[number] {
  // prettier-ignore
  const sigma = Math.max(sigmaAt(holdUp), 0.012 * holdUp) * random.uniform(0.7, 1.3);
  const size = level * random.logUniform(30, 2000);
  const order = random.chance(0.5) ? 1 : -1;
  if (random.chance(0.15)) return { kind: 'void', time: holdUp, height: -size, sigma };
  return {
    kind: 'void',
    time: holdUp,
    height: order * size,
    sigma,
    second: {
      delay: sigma * random.uniform(1.5, 3.2),
      height: -order * size * random.uniform(0.25, 1.1),
      sigma: sigma * random.uniform(0.7, 1.3),
    },
  };
}

const overVoid: Builder = (random) => {
  const column = makeColumn(random);
  const times = placeTimes(random, column, random.whole(2, 6), 26);
  // the first one close behind the swing of the solvent, on its flank
  const first = column.holdUp * random.uniform(1.25, 1.55);
  const peaks = [first, ...times.filter((t) => t - first > 16 * column.sigmaAt(t))].map((t) => outside(random, t, random.logUniform(5, 1000), column.sigmaAt(t))); // prettier-ignore
  const recipe = common(random, column, peaks);
  return { ...recipe, disturbances: [voidSwing(random, column, levelOf(recipe))] };
};

const overHumps =
  (maker: Maker): Builder =>
  (random) => {
    const column = makeColumn(random);
    const times = placeTimes(random, column, random.whole(3, 9), 22);
    const recipe = common(random, column, times.map((t) => maker(random, t, random.logUniform(2, 500), column.sigmaAt(t)))); // prettier-ignore
    const humps = Array.from({ length: random.whole(1, 2) }, () => {
      const time = random.uniform(0.3, 0.8) * column.duration;
      const sigma = Math.max(column.duration * random.uniform(0.05, 0.14), 14 * column.sigmaAt(time));
      return { time, height: random.logUniform(2, 60), sigma };
    });
    return { ...recipe, baseline: { ...recipe.baseline, humps } };
  };

const weak =
  (maker: Maker, low: number, high: number): Builder =>
  (random) => {
    const column = makeColumn(random);
    const times = placeTimes(random, column, random.whole(3, 8), 24);
    const recipe = common(random, column, [], [0.01, 0.1]);
    const peaks = times.map((t) => maker(random, t, levelOf(recipe) * 3.3 * random.logUniform(low, high), column.sigmaAt(t))); // prettier-ignore
    return { ...recipe, peaks };
  };

/** Gradient with a step and its return, wander, ripple, bubbles, spikes, jitter, gaps: as much of it as chance has it. */
const troubled =
  (maker: Maker): Builder =>
  (random) => {
    const column = makeColumn(random);
    const { duration } = column;
    const times = placeTimes(random, column, random.whole(3, 8), 26).filter((t) => t < 0.8 * duration);
    const peaks = times.map((t) => maker(random, t, random.logUniform(5, 1000), column.sigmaAt(t)));
    const recipe = common(random, column, peaks);
    const { interval } = recipe;
    const level = levelOf(recipe);
    /** [min] A time away from every peak. */
    const free = (): number | undefined => {
      for (let k = 0; k < 60; k++) {
        const t = random.uniform(0.05, 0.95) * duration;
        if (times.every((o) => Math.abs(o - t) > 16 * column.sigmaAt(o))) return t;
      }
      return undefined;
    };
    const disturbances: NonNullable<TraceRecipe['disturbances']>[number][] = [];
    const place = (make: (time: number) => (typeof disturbances)[number]): void => {
      const time = free();
      if (time !== undefined && disturbances.every((d) => Math.abs(d.time - time) > 0.05 * duration)) {
        disturbances.push(make(time));
      }
    };
    const size = (): number => sign(random, 0.6) * level * random.logUniform(20, 1000);
    if (random.chance(0.5)) disturbances.push(voidSwing(random, column, level));
    if (random.chance(0.5)) place((time) => ({ kind: 'spike', time, height: size() }));
    if (random.chance(0.4)) place((time) => ({ kind: 'bubble', time, height: size(), stay: random.uniform(0, 0.1), decay: random.logUniform(0.01, 0.1) })); // prettier-ignore
    if (random.chance(0.3)) place((time) => ({ kind: 'step', time, height: size() / 10 }));
    const rise = random.logUniform(2, 40);
    const gap = random.chance(0.3) ? free() : undefined;
    return {
      ...recipe,
      disturbances,
      baseline: {
        ...recipe.baseline,
        ramps: [
          { from: 0.1 * duration, to: 0.8 * duration, rise, bend: random.uniform(-0.4, 0.4), rounding: 0.01 * duration }, // prettier-ignore
          { from: 0.86 * duration, to: 0.89 * duration, rise: -rise, rounding: 0.005 * duration },
        ],
      },
      noise: {
        ...recipe.noise,
        ...(random.chance(0.5)
          ? { wander: { standardDeviation: level * random.uniform(0.3, 2), shortest: 20, longest: 1280 } }
          : { ripple: { amplitude: level * random.uniform(0.3, 2), period: random.logUniform(1.5, 12), harmonics: [0.3, 0.1] } }), // prettier-ignore
      },
      sampling: {
        jitter: random.chance(0.3) ? random.uniform(0.05, 0.4) : 0,
        gaps: gap === undefined ? [] : [{ from: gap, to: gap + (interval / 60) * random.uniform(3, 60) }],
      },
    };
  };

const outsideBuilders = {
  'log-normal': alone(logNormal),
  'split Gaussian': alone(split),
  overloaded: alone(overloaded),
  'slow sites': alone(slowSites),
  polynomial: alone(polynomial),
  'outside pairs': pairs(outside, [3, 7], [0.15, 4], 0.2),
  'outside riders': riders,
  'outside crowded': crowded,
  'outside void': overVoid,
  'outside humps': overHumps(outside),
  'outside weak': weak(outside, 3, 40),
  'outside troubled': troubled(outside),
} as const satisfies Record<string, Builder>;

const furtherBuilders = {
  weak: weak(inside, 2.5, 14),
  hidden: pairs(inside, [1.6, 2.9], [0.06, 0.4], 0),
  humps: overHumps(inside),
  troubled: troubled(inside),
} as const satisfies Record<string, Builder>;

export type OutsideFamily = keyof typeof outsideBuilders;
export type FurtherFamily = keyof typeof furtherBuilders;

/** Twelve kinds of run whose peaks are of shapes outside the family that is fitted. */
export const outsideFamilies = Object.keys(outsideBuilders) as readonly OutsideFamily[];
/** Those in which such peaks stand alone. */
export const aloneFamilies: readonly OutsideFamily[] = outsideFamilies.slice(0, 5);
/** Four further kinds with peaks of the family that is fitted. */
export const furtherFamilies = Object.keys(furtherBuilders) as readonly FurtherFamily[];

/** One run of a family with its truth; the same seed gives the same run. */
export function makeSimulated(family: OutsideFamily | FurtherFamily, seed: number): Run {
  const builders: Readonly<Record<OutsideFamily | FurtherFamily, Builder>> = { ...outsideBuilders, ...furtherBuilders };
  return makeSimulatedRun(builders[family](createRandom(seed, family)), family, seed);
}
