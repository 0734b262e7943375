import {
  analyse,
  createWorkspace,
  simulateTrace,
  type BaselineRecipe,
  type NoiseRecipe,
  type Peak,
  type PeakRecipe,
  type TruePeak,
} from '../../src/index.js';
import { createRandom, type Random } from './random.js';

/** What is asked of a stated uncertainty: in each repeat noise, drift, wander and sampling phase are drawn anew. */
export interface UncertaintyFamily {
  readonly name: string;
  /** Whether a divider is used. */
  readonly divided: boolean;
  readonly peaks: (at: number) => readonly PeakRecipe[];
  readonly noise: NoiseRecipe;
  readonly baseline?: (random: Random) => BaselineRecipe;
}

/** What a stated uncertainty was worth over the repeats of a family. */
export interface Worth {
  readonly quantity: string;
  readonly count: number;
  /** [-] Root mean square of the stated uncertainties over that of the errors about the truth. */
  readonly ratio: number;
  /** [-] Share of the intervals of 1.96 uncertainties that hold the truth. */
  readonly coverage: number;
}

const sigma = 0.05;
const height = 100;
const interval = 0.4;
/** h of some three hundred readings is about six standard deviations. */
const white = (ratio: number): number => height / (3 * ratio);

const one =
  (tau: number) =>
  (at: number): PeakRecipe[] => [{ shape: 'emg', retentionTime: at, height, sigma, tau }];
const two =
  (second: number, apart: number, tau: number) =>
  (at: number): PeakRecipe[] => [
    { shape: 'emg', retentionTime: at, height, sigma, tau },
    { shape: 'emg', retentionTime: at + apart * sigma, height: second, sigma, tau },
  ];

export const uncertaintyFamilies: readonly UncertaintyFamily[] = [
  { name: 'Gaussian, S/N 20', divided: false, peaks: one(0), noise: { white: white(20) } },
  { name: 'Gaussian, S/N 60', divided: false, peaks: one(0), noise: { white: white(60) } },
  { name: 'Gaussian, S/N 300', divided: false, peaks: one(0), noise: { white: white(300) } },
  { name: 'tailing, S/N 20', divided: false, peaks: one(0.03), noise: { white: white(20) } },
  { name: 'tailing, S/N 60', divided: false, peaks: one(0.03), noise: { white: white(60) } },
  { name: 'tailing, S/N 300', divided: false, peaks: one(0.03), noise: { white: white(300) } },
  {
    name: 'correlated noise, S/N 40',
    divided: false,
    peaks: one(0.02),
    noise: { correlated: { standardDeviation: white(40), timeConstant: 1 } },
  },
  {
    name: 'drift, S/N 60',
    divided: false,
    peaks: one(0.02),
    noise: { white: white(60) },
    baseline: (random) => ({ offset: random.uniform(-20, 20), drift: random.uniform(-40, 40) }),
  },
  {
    name: 'wander, S/N 60',
    divided: false,
    peaks: one(0.02),
    noise: { white: white(80), wander: { standardDeviation: white(80), shortest: 20, longest: 240 } },
  },
  { name: 'fused pair, S/N 100', divided: true, peaks: two(60, 3, 0.02), noise: { white: white(100) } },
  { name: 'rider, S/N 300', divided: true, peaks: two(12, 4, 0.03), noise: { white: white(300) } },
];

type Value = readonly [stated: number | undefined, error: number | undefined];

const quantities: Readonly<Record<string, (peak: Peak, truth: TruePeak) => Value>> = {
  area: (p, t) => [p.areaUncertainty, p.area - t.area],
  height: (p, t) => [p.withinRun?.height, p.height - t.height],
  'retention time': (p, t) => [p.withinRun?.retentionTime, p.retentionTime - t.retentionTime],
  plates: (p, t) => [p.withinRun?.platesHalfHeight, less(p.plates.halfHeight, t.plates.halfHeight)],
  tailing: (p, t) => [p.withinRun?.tailingFactor, less(p.tailingFactor, t.tailingFactor)],
  asymmetry: (p, t) => [p.withinRun?.asymmetry, less(p.asymmetry, t.asymmetry)],
  resolution: (p, t) => [p.withinRun?.resolutionHalfHeight, less(p.resolution?.halfHeight, t.resolution?.halfHeight)],
};

function less(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined || b === undefined ? undefined : a - b;
}

/** Repeats a family and holds what is stated against what is true; of fused peaks all are counted. */
export function judgeUncertainty(family: UncertaintyFamily, repeats: number, firstSeed = 1): Worth[] {
  const workspace = createWorkspace();
  const all: Record<string, [number, number][]> = {};
  for (const name of Object.keys(quantities)) all[name] = [];
  for (let seed = firstSeed; seed < firstSeed + repeats; seed++) {
    const random = createRandom(seed);
    const at = 5 + (random.uniform(0, 1) * interval) / 60;
    const { trace, truth } = simulateTrace({
      duration: 10,
      interval,
      seed,
      peaks: family.peaks(at),
      noise: family.noise,
      baseline: family.baseline?.(random) ?? { offset: 2, drift: random.uniform(-1, 1) },
    });
    const { peaks } = analyse(trace, {}, workspace);
    for (const true_ of truth.peaks) {
      const found = peaks.find((p) => Math.abs(p.retentionTime - true_.retentionTime) < sigma);
      if (found === undefined) continue;
      for (const [name, take] of Object.entries(quantities)) {
        const [stated, error] = take(found, true_);
        if (stated !== undefined && error !== undefined) all[name]!.push([stated, error]);
      }
    }
  }
  return Object.entries(all)
    .filter(([, pairs]) => pairs.length > 0)
    .map(([quantity, pairs]) => {
      const mean = (f: (stated: number, error: number) => number): number =>
        pairs.reduce((sum, [s, e]) => sum + f(s, e), 0) / pairs.length;
      return {
        quantity,
        count: pairs.length,
        ratio: Math.sqrt(mean((s) => s * s) / mean((_, e) => e * e)),
        coverage: mean((s, e) => (Math.abs(e) <= 1.959964 * s ? 1 : 0)),
      };
    });
}

/** Prints the table: for each family and quantity the ratio of stated to real, and the coverage in per cent. */
export function printUncertainty(repeats: number): void {
  const names = Object.keys(quantities);
  console.log(`${repeats} repeats a family: stated uncertainty over RMS error, and share of 95 % intervals that hold`);
  console.log(`${'family'.padEnd(26)}${names.map((name) => name.padStart(15)).join('')}`);
  for (const family of uncertaintyFamilies) {
    const worth = new Map(judgeUncertainty(family, repeats).map((w) => [w.quantity, w]));
    const cells = names.map((name) => {
      const w = worth.get(name);
      return (w === undefined ? '-' : `${w.ratio.toFixed(2)} ${(w.coverage * 100).toFixed(1).padStart(5)}`).padStart(
        15,
      );
    });
    console.log(`${family.name.padEnd(26)}${cells.join('')}`);
  }
}
