import { makeRunFrom, type Recipe, type Run, type TrueDisturbance } from './make-run.js';
import { gaussian, logNormal, modifiedGaussian, secondSite, splitGaussian, type PeakShape } from './peak-shapes.js';
import { createRandom, type Random } from './random.js';

/** Separation conditions of a run, in minutes. */
interface Column {
  readonly duration: number;
  readonly holdUp: number;
  readonly gradient: boolean;
  /** [min] Standard deviation of a peak at a time. */
  readonly sigmaAt: (time: number) => number;
}

type Peak = Recipe['peaks'][number];
type ShapeMaker = (random: Random, sigma: number) => PeakShape;
type Builder = (random: Random) => Recipe;

function makeColumn(
  random: Random,
  want: { gradient?: boolean; plates?: readonly [number, number]; duration?: readonly [number, number] } = {},
): Column {
  const duration = random.logUniform(...(want.duration ?? ([5, 40] as const)));
  const gradient = want.gradient ?? random.chance(0.2);
  const plates = random.logUniform(...(want.plates ?? ([2000, 20000] as const)));
  const holdUp = Math.max(0.4, duration * random.uniform(0.04, 0.12));
  const device = random.uniform(0.004, 0.02); // spread outside the column
  const constant = duration * random.uniform(0.0025, 0.006);
  return {
    duration,
    holdUp,
    gradient,
    sigmaAt: (t) => (gradient ? constant : Math.sqrt((t * t) / plates + device * device)),
  };
}

/** Even sampling that gives the narrowest peak at least 2.5 samples per sigma and the run 3 000 to 30 000 samples. */
function sampleEvenly(random: Random, column: Column, narrowest: number, from = 0, to = column.duration): Float64Array {
  const rates = [1, 1.25, 2, 2.5, 4, 5, 8, 10, 12.5, 20];
  const density = random.logUniform(2.5, 30);
  const wanted = Math.max(density / (narrowest * 60), 3000 / ((to - from) * 60));
  let rate = rates.find((r) => r >= wanted) ?? 20;
  while (rate * (to - from) * 60 > 30000 && rate > 1) rate = rates[rates.indexOf(rate) - 1]!;
  const n = Math.max(3000, Math.floor((to - from) * 60 * rate) + 1);
  const step = Math.max(1 / (rate * 60), (to - from) / n);
  return Float64Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => from + i * step);
}

const mixedShape: ShapeMaker = (random, sigma) => {
  const kind = random.uniform(0, 1);
  if (kind < 0.35) return gaussian(sigma);
  if (kind < 0.7) return modifiedGaussian(sigma, sigma * random.uniform(0.2, 0.9));
  if (kind < 0.8) return splitGaussian(sigma * random.uniform(0.85, 1), sigma * random.uniform(1, 1.3));
  if (kind < 0.92) return logNormal(sigma, random.uniform(0.03, 0.2));
  return secondSite(sigma, sigma * random.uniform(0.2, 0.5), random.uniform(0.01, 0.05), sigma * random.uniform(2, 4));
};
const tailingShape: ShapeMaker = (random, sigma) => {
  const kind = random.uniform(0, 1);
  if (kind < 0.65) return modifiedGaussian(sigma, sigma * random.uniform(0.6, 2));
  if (kind < 0.8) return logNormal(sigma, random.uniform(0.15, 0.35));
  return secondSite(sigma, sigma * random.uniform(0.3, 1), random.uniform(0.03, 0.12), sigma * random.uniform(2.5, 6));
};
const frontingShape: ShapeMaker = (random, sigma) => {
  const kind = random.uniform(0, 1);
  if (kind < 0.5) return modifiedGaussian(sigma, -sigma * random.uniform(0.4, 1.6));
  if (kind < 0.75) return splitGaussian(sigma * random.uniform(1.2, 2.2), sigma);
  return logNormal(sigma, -random.uniform(0.1, 0.3));
};

/** Times of `count` peaks with at least `apart` sigma between neighbours (each side counted with its own sigma). */
function placeTimes(
  random: Random,
  column: Column,
  count: number,
  apart: number,
  from?: number,
  to?: number,
): number[] {
  const low = from ?? column.holdUp * random.uniform(1.3, 1.8);
  const high = to ?? column.duration * 0.95;
  const times: number[] = [];
  for (let attempt = 0; attempt < count * 60 && times.length < count; attempt++) {
    const t = column.gradient ? random.uniform(low, high) : random.logUniform(Math.max(low, 0.05), high);
    if (t + 6 * column.sigmaAt(t) > high + column.duration * 0.03) continue;
    if (times.every((o) => Math.abs(o - t) > (apart / 2) * (column.sigmaAt(o) + column.sigmaAt(t)))) times.push(t);
  }
  return times.sort((a, b) => a - b);
}

const height = (random: Random): number => random.logUniform(0.5, 1500);

function makePeaks(
  random: Random,
  column: Column,
  times: readonly number[],
  shape: ShapeMaker,
  heights: (r: Random) => number = height,
): Peak[] {
  return times.map((apex) => ({ apex, height: heights(random), shape: shape(random, column.sigmaAt(apex)) }));
}

/** What all runs share: offset, drift, noise, unit, start of the axis. */
function common(
  random: Random,
  column: Column,
  peaks: readonly Peak[],
  want: { noise?: readonly [number, number]; drift?: number } = {},
): Recipe {
  const narrowest = Math.min(column.duration / 60, ...peaks.map((p) => p.shape.halfWidth / 2.355));
  const offset = random.pick([0, random.uniform(-2, 2), random.uniform(-40, 40), random.logUniform(0.1, 300)]);
  const slope = (random.chance(0.6) ? random.normal() * (want.drift ?? 1.5) : 0) / 60;
  const bend = random.chance(0.3) ? (random.normal() * 0.5) / column.duration : 0;
  const noise = random.logUniform(...(want.noise ?? ([0.005, 0.2] as const)));
  return {
    time: sampleEvenly(random, column, narrowest),
    peaks,
    background: (t) => offset + slope * t + bend * (t - column.duration / 2) * (t / column.duration),
    disturbances: random.chance(0.15) ? voidDisturbance(random, column, noise) : [],
    noise,
    correlation: random.chance(0.5) ? 0 : random.uniform(0.2, 0.85),
    unit: random.pick([
      { name: 'mAU', perMilli: 1 },
      { name: 'mAU', perMilli: 1 },
      { name: 'mAU', perMilli: 1 },
      { name: 'AU', perMilli: 1e-3 },
      { name: 'µAU', perMilli: 1e3 },
      { name: 'mV', perMilli: 1 },
      { name: 'µV', perMilli: 1e3 },
      { name: 'V', perMilli: 1e-3 },
    ]),
    timeShift: random.chance(0.3) ? random.logUniform(0.01, 5) : 0,
    ...(random.chance(0.25) ? { timeDecimals: 5 } : {}),
  };
}

function pulse(kind: TrueDisturbance['kind'], at: number, amplitude: number, shape: PeakShape): TrueDisturbance {
  return { kind, at, from: at + shape.from, to: at + shape.to, value: (t) => amplitude * shape.value(t - at) };
}

/**
 * Dip then rise or rise then dip at the hold-up time, touching, with a small
 * third swing at times; or a dip alone. Never a rise alone: that would be a peak.
 */
function voidDisturbance(random: Random, column: Column, noise: number): TrueDisturbance[] {
  const sigma = Math.max(column.sigmaAt(column.holdUp), column.holdUp * 0.012) * random.uniform(0.8, 1.5);
  const size = noise * random.logUniform(20, 2000);
  const alone = random.chance(0.2);
  const first = !alone && random.chance(0.5) ? 1 : -1;
  const shape = (): PeakShape =>
    random.chance(0.5)
      ? gaussian(sigma * random.uniform(0.6, 1.2))
      : modifiedGaussian(sigma * 0.8, sigma * random.uniform(0.3, 1.2));
  const parts = [pulse('void', column.holdUp, first * size, shape())];
  if (alone) return parts;
  const second = sigma * random.uniform(1.2, 3.2);
  parts.push(pulse('void', column.holdUp + second, -first * size * random.uniform(0.2, 1.2), shape()));
  if (random.chance(0.25)) {
    const third = second + sigma * random.uniform(1.5, 3);
    parts.push(pulse('void', column.holdUp + third, first * size * random.uniform(0.05, 0.4), shape()));
  }
  return parts;
}

const clean: Builder = (random) => {
  const column = makeColumn(random);
  return common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 10), 14), mixedShape),
  );
};

const assay: Builder = (random) => {
  const column = makeColumn(random, { plates: [4000, 20000] });
  const main = random.uniform(400, 1500);
  const times = placeTimes(random, column, random.whole(4, 9), 16);
  const chief = random.whole(0, times.length - 1);
  const peaks = makePeaks(
    random,
    column,
    times,
    mixedShape,
    (r) => main * (r.chance(0.5) ? 0.0005 * r.uniform(0.9, 1.2) : r.logUniform(0.0005, 0.02)),
  );
  const shape = random.chance(0.5)
    ? gaussian(column.sigmaAt(times[chief]!))
    : modifiedGaussian(column.sigmaAt(times[chief]!), column.sigmaAt(times[chief]!) * random.uniform(0.2, 0.6));
  peaks[chief] = { apex: times[chief]!, height: main, shape };
  return common(random, column, peaks, { noise: [0.004, 0.02], drift: 0.7 });
};

const nearLimit: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(3, 9), 12), mixedShape),
    { drift: 0.5 },
  );
  const big = random.chance(0.4) ? random.whole(0, recipe.peaks.length - 1) : -1;
  return {
    ...recipe,
    peaks: recipe.peaks.map((p, i) => ({
      ...p,
      height: i === big ? height(random) : recipe.noise * 3.2 * random.uniform(7, 32),
    })),
  };
};

const fused: Builder = (random) => {
  const column = makeColumn(random);
  const peaks: Peak[] = [];
  for (const t of placeTimes(random, column, random.whole(2, 5), 30)) {
    const s = column.sigmaAt(t);
    const h = height(random);
    const members = random.chance(0.25) ? 3 : 2;
    let at = t;
    for (let k = 0; k < members; k++) {
      peaks.push({ apex: at, height: k === 0 ? h : h * random.logUniform(0.08, 6), shape: mixedShape(random, s) });
      at += s * 4 * random.uniform(0.6, 1.4);
    }
  }
  return common(random, column, peaks, { noise: [0.005, 0.1] });
};

const riders: Builder = (random) => {
  const column = makeColumn(random);
  const peaks: Peak[] = [];
  for (const t of placeTimes(random, column, random.whole(1, 3), 50)) {
    const s = column.sigmaAt(t);
    const h = random.logUniform(30, 1500);
    peaks.push({ apex: t, height: h, shape: tailingShape(random, s) });
    const away = s * random.uniform(4, 11);
    peaks.push({
      apex: t + away,
      height: h * random.logUniform(0.003, 0.08),
      shape: mixedShape(random, column.sigmaAt(t + away)),
    });
    if (random.chance(0.25)) {
      const further = away + s * random.uniform(5, 9);
      peaks.push({
        apex: t + further,
        height: h * random.logUniform(0.002, 0.05),
        shape: mixedShape(random, column.sigmaAt(t + further)),
      });
    }
  }
  return common(random, column, peaks, { noise: [0.005, 0.08] });
};

const tailing: Builder = (random) => {
  const column = makeColumn(random);
  return common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 8), 22), tailingShape),
  );
};

const fronting: Builder = (random) => {
  const column = makeColumn(random);
  return common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 8), 20), frontingShape),
  );
};

const gradients: Builder = (random) => {
  const column = makeColumn(random, { gradient: true });
  const times = placeTimes(
    random,
    column,
    random.whole(4, 14),
    random.uniform(7, 12),
    column.holdUp * 1.5,
    column.duration * 0.8,
  );
  const recipe = common(random, column, makePeaks(random, column, times, mixedShape));
  const rise = random.logUniform(2, 80) * (random.chance(0.8) ? 1 : -1);
  const begin = column.holdUp * random.uniform(1, 2);
  const back = column.duration * random.uniform(0.84, 0.94);
  // a ramp up to the wash, or a step somewhere before it
  const end = random.chance(0.65)
    ? column.duration * random.uniform(0.78, 0.84)
    : begin + column.duration * random.uniform(0.05, 0.3);
  const mix = column.duration * random.uniform(0.01, 0.03); // mixer rounds the corners
  const fall = column.duration * random.uniform(0.006, 0.02);
  const curved = random.uniform(-0.4, 0.4);
  const soft = (t: number): number => Math.max(t, 0) + mix * Math.log1p(Math.exp(-Math.abs(t) / mix));
  const background = recipe.background;
  return {
    ...recipe,
    background: (t) => {
      const share = (soft(t - begin) - soft(t - end)) / (end - begin);
      return background(t) + rise * (share + curved * share * (1 - share)) * (0.5 - 0.5 * Math.tanh((t - back) / fall));
    },
  };
};

function wanderOf(random: Random, size: number, slowest: number, fastest: number): (t: number) => number {
  const waves = Array.from({ length: 24 }, (_, k) => {
    const frequency = slowest * Math.pow(fastest / slowest, (k + random.uniform(0, 1)) / 24);
    return {
      frequency,
      phase: random.uniform(0, 2 * Math.PI),
      amplitude: random.uniform(0.5, 1.5) / Math.sqrt(frequency / slowest),
    };
  });
  const power = Math.sqrt(waves.reduce((s, w) => s + (w.amplitude * w.amplitude) / 2, 0));
  return (t) => {
    let sum = 0;
    for (const w of waves) sum += w.amplitude * Math.sin(2 * Math.PI * w.frequency * t + w.phase);
    return (size * sum) / power;
  };
}

const wander: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 9), 14), mixedShape),
  );
  const middle = column.sigmaAt(column.duration / 2);
  return {
    ...recipe,
    wander: wanderOf(random, recipe.noise * random.logUniform(0.7, 6), 0.5 / column.duration, 0.25 / middle),
  };
};

const ripple: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 9), 14), mixedShape),
  );
  const strokes = random.logUniform(4, 60);
  const size = recipe.noise * random.logUniform(0.7, 6);
  const parts = [1, 2, 3].map((k) => ({
    k,
    amplitude: (size * random.uniform(0.4, 1)) / (k * k),
    phase: random.uniform(0, 6.283),
  }));
  const swing = random.uniform(0, 0.4);
  const slow = random.chance(0.5)
    ? wanderOf(random, recipe.noise * random.uniform(0.5, 2), 0.5 / column.duration, 0.2)
    : (): number => 0;
  return {
    ...recipe,
    wander: (t) => {
      let sum = 0;
      for (const p of parts) sum += p.amplitude * Math.sin(2 * Math.PI * p.k * strokes * t + p.phase);
      return sum * (1 + swing * Math.sin((2 * Math.PI * 1.5 * t) / column.duration)) + slow(t);
    },
  };
};

const deadTime: Builder = (random) => {
  const column = makeColumn(random);
  const times = placeTimes(random, column, random.whole(1, 7), 14, column.holdUp * random.uniform(1.35, 2));
  const recipe = common(random, column, makePeaks(random, column, times, mixedShape));
  return { ...recipe, disturbances: voidDisturbance(random, column, recipe.noise) };
};

/** A time further than `margin` sigma from every peak, if there is one. */
function freeTime(random: Random, column: Column, peaks: readonly Peak[], margin: number): number | undefined {
  for (let attempt = 0; attempt < 80; attempt++) {
    const t = random.uniform(column.duration * 0.03, column.duration * 0.97);
    if (peaks.every((p) => Math.abs(p.apex - t) > (margin * p.shape.halfWidth) / 2.355)) return t;
  }
  return undefined;
}

const spikes: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 7), 14), mixedShape),
  );
  const disturbances: TrueDisturbance[] = [...recipe.disturbances];
  const { time } = recipe;
  const step = time[1]! - time[0]!;
  for (let k = random.whole(1, 6); k > 0; k--) {
    const at = freeTime(random, column, recipe.peaks, random.chance(0.85) ? 6 : 2.5);
    if (at === undefined) continue;
    const i = Math.round((at - time[0]!) / step);
    const samples = random.pick([1, 1, 1, 2, 3]);
    const size = (random.chance(0.6) ? 1 : -1) * recipe.noise * random.logUniform(12, 3000);
    const from = time[Math.min(i, time.length - 1)]! - step * 0.5;
    disturbances.push({
      kind: 'spike',
      at: from + (step * samples) / 2,
      from,
      to: from + step * samples,
      value: (t) => (t < from + step * 1 ? size : size * 0.6),
    });
  }
  return { ...recipe, disturbances };
};

const bubbles: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 7), 16), mixedShape),
  );
  const disturbances: TrueDisturbance[] = [...recipe.disturbances];
  const step = recipe.time[1]! - recipe.time[0]!;
  for (let k = random.whole(1, 3); k > 0; k--) {
    const at = freeTime(random, column, recipe.peaks, 9);
    if (at === undefined) continue;
    const size = (random.chance(0.7) ? 1 : -1) * recipe.noise * random.logUniform(15, 1500);
    const kind = random.uniform(0, 1);
    if (kind < 0.5) {
      // sudden, then swept out exponentially
      const decay = Math.max(step * 2, random.logUniform(0.02, 0.3));
      const rise = step * random.uniform(0.5, 2);
      disturbances.push({
        kind: 'bubble',
        at: at + rise,
        from: at,
        to: at + rise + 14 * decay,
        value: (t) => (t < at + rise ? (size * (t - at)) / rise : size * Math.exp(-(t - at - rise) / decay)),
      });
    } else if (kind < 0.8) {
      // sits in the cell, then leaves
      const stay = random.logUniform(0.03, 0.5);
      disturbances.push({
        kind: 'bubble',
        at: at + stay / 2,
        from: at,
        to: at + stay,
        value: (t) => size * (1 + 0.1 * Math.sin((t - at) * 40)),
      });
    } else {
      disturbances.push({ kind: 'step', at, from: at, to: column.duration, lasting: true, value: () => size * 0.2 });
    }
  }
  return { ...recipe, disturbances };
};

const saturation: Builder = (random) => {
  const column = makeColumn(random);
  const peaks = makePeaks(random, column, placeTimes(random, column, random.whole(2, 7), 16), mixedShape, (r) =>
    r.chance(0.4) ? r.uniform(1000, 3000) : height(r),
  );
  const recipe = common(random, column, peaks);
  const top = Math.max(...peaks.map((p) => p.height));
  const base = Math.max(recipe.background(0), recipe.background(column.duration));
  return {
    ...recipe,
    ceiling: {
      level: base + Math.max(top * random.uniform(0.35, 0.95), recipe.noise * 100),
      noiseAfter: random.chance(0.5),
    },
  };
};

const crowded: Builder = (random) => {
  const column = makeColumn(random, { plates: [6000, 20000], duration: [10, 40] });
  const times = placeTimes(random, column, random.whole(12, 30), random.uniform(4, 6));
  return common(
    random,
    column,
    makePeaks(random, column, times, mixedShape, (r) => r.logUniform(1, 800)),
    { noise: [0.005, 0.08] },
  );
};

const blank: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(random, column, [], { drift: 3 });
  return {
    ...recipe,
    disturbances: random.chance(0.6) ? voidDisturbance(random, column, recipe.noise) : [],
    ...(random.chance(0.4)
      ? {
          wander: wanderOf(
            random,
            recipe.noise * random.uniform(0.5, 3),
            0.5 / column.duration,
            1 / random.uniform(0.5, 4),
          ),
        }
      : {}),
  };
};

const lateBroad: Builder = (random) => {
  const column = makeColumn(random, { gradient: false, plates: [2000, 8000], duration: [12, 40] });
  const times = placeTimes(random, column, random.whole(2, 6), 14, undefined, column.duration * 0.5);
  const peaks = makePeaks(random, column, times, mixedShape);
  const wide = column.sigmaAt(column.duration * 0.8) * random.uniform(1, 2.5);
  const apex = column.duration - wide * random.uniform(5, 7) - column.duration * 0.05;
  peaks.push({
    apex,
    height: random.logUniform(1, 60),
    shape: random.chance(0.6) ? gaussian(wide) : modifiedGaussian(wide * 0.9, wide * random.uniform(0.2, 0.6)),
  });
  return common(random, column, peaks, { noise: [0.005, 0.1], drift: 0.7 });
};

const cut: Builder = (random) => {
  const column = makeColumn(random);
  const peaks = makePeaks(random, column, placeTimes(random, column, random.whole(3, 8), 14), mixedShape, (r) =>
    r.logUniform(2, 1500),
  );
  const recipe = common(random, column, peaks);
  const early = random.chance(0.5);
  const late = !early || random.chance(0.25);
  const ordered = [...peaks].sort((a, b) => a.apex - b.apex);
  const a = ordered[0]!;
  const b = ordered[ordered.length - 1]!;
  const from = early ? a.apex + (a.shape.halfWidth / 2.355) * random.uniform(-2.5, 1.5) : 0;
  const to = late ? b.apex + (b.shape.halfWidth / 2.355) * random.uniform(-1.5, 2.5) : column.duration;
  const narrowest = Math.min(...peaks.map((p) => p.shape.halfWidth / 2.355));
  const disturbances = recipe.disturbances.filter((d) => d.from > from);
  if (!(to - from > column.duration * 0.05)) return { ...recipe, disturbances };
  return { ...recipe, disturbances, time: sampleEvenly(random, column, narrowest, Math.max(from, 0), to) };
};

const quantised: Builder = (random) => {
  const column = makeColumn(random);
  const recipe = common(
    random,
    column,
    makePeaks(random, column, placeTimes(random, column, random.whole(2, 9), 14), mixedShape, (r) =>
      r.logUniform(2, 1500),
    ),
    { noise: [0.005, 0.05] },
  );
  return { ...recipe, quantum: recipe.noise * random.logUniform(0.7, 12) };
};

const nonUniform: Builder = (random) => {
  const column = makeColumn(random);
  const peaks = makePeaks(random, column, placeTimes(random, column, random.whole(2, 8), 14), mixedShape);
  const recipe = common(random, column, peaks);
  const step = recipe.time[1]! - recipe.time[0]!;
  const kind = random.uniform(0, 1);
  let times = [...recipe.time];
  if (kind < 0.4) {
    const jitter = random.uniform(0.05, 0.42);
    times = times.map((t) => t + step * random.uniform(-jitter, jitter));
  } else if (kind < 0.7) {
    for (let k = random.whole(1, 3); k > 0; k--) {
      const at = freeTime(random, column, peaks, 5);
      if (at === undefined) continue;
      const width = step * random.logUniform(3, 120);
      if (peaks.some((p) => at + width > p.apex - 2.5 * p.shape.halfWidth && at < p.apex + 2.5 * p.shape.halfWidth))
        continue;
      times = times.filter((t) => t < at || t > at + width);
    }
  } else {
    const seam = random.uniform(0.3, 0.7) * column.duration;
    const every = random.whole(2, 4);
    const slowFirst = random.chance(0.3);
    const coarse = (t: number): boolean => (slowFirst ? t < seam : t >= seam);
    const narrow = Math.min(Infinity, ...peaks.filter((p) => coarse(p.apex)).map((p) => p.shape.halfWidth / 2.355));
    if (narrow / (step * every) >= 2) times = times.filter((t, i) => !coarse(t) || i % every === 0);
    else times = times.map((t) => t + step * random.uniform(-0.3, 0.3));
  }
  return { ...recipe, time: Float64Array.from(times) };
};

const negative: Builder = (random) => {
  const column = makeColumn(random);
  const peaks = makePeaks(random, column, placeTimes(random, column, random.whole(3, 8), 16), mixedShape, (r) =>
    r.logUniform(0.5, 500),
  );
  // never the first: alone and early, nothing tells a negative peak from a dip at the hold-up time
  const count = peaks.length < 2 ? 0 : random.whole(1, Math.max(1, peaks.length - 2));
  const chosen = new Set<number>();
  while (chosen.size < count) chosen.add(random.whole(1, peaks.length - 1));
  return common(
    random,
    column,
    peaks.map((p, i) => (chosen.has(i) ? { ...p, height: -p.height } : p)),
  );
};

const builders = {
  clean,
  assay,
  'near the limit': nearLimit,
  fused,
  riders,
  tailing,
  fronting,
  gradients,
  wander,
  ripple,
  'dead time': deadTime,
  'spikes and bubbles': (random: Random): Recipe => (random.chance(0.5) ? spikes : bubbles)(random),
  saturation,
  crowded,
  blanks: blank,
  'late broad': lateBroad,
  cut,
  quantised,
  'non-uniform': nonUniform,
  negative,
} as const satisfies Record<string, Builder>;

export type Family = keyof typeof builders;

/** The twenty kinds of run, in the order of the table. */
export const families = Object.keys(builders) as readonly Family[];

/** One run of a family with its truth; the same seed gives the same run. */
export function makeRun(family: Family, seed: number): Run {
  const random = createRandom(seed, family);
  return makeRunFrom(builders[family](random), random, family, seed);
}
