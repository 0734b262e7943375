import type { PeakShape } from './peak-shapes.js';
import type { Random } from './random.js';

/** What goes into one run, in minutes and mAU; {@link makeRunFrom} samples it and writes down the truth. */
export interface Recipe {
  /** [min] Times of the samples. */
  readonly time: Float64Array;
  readonly peaks: readonly { readonly apex: number; readonly height: number; readonly shape: PeakShape }[];
  /** Smooth background: offset, drift, gradient [mAU at min]. */
  readonly background: (time: number) => number;
  /** Slow wander and pump ripple [mAU at min]; counts as background noise in S/N. */
  readonly wander?: (time: number) => number;
  readonly disturbances: readonly TrueDisturbance[];
  /** [mAU] Standard deviation of the noise, and its correlation from sample to sample. */
  readonly noise: number;
  readonly correlation: number;
  /** [mAU] Ceiling of the detector, applied to the signal without or with its noise. */
  readonly ceiling?: { readonly level: number; readonly noiseAfter: boolean };
  /** [mAU] Step of the converter. */
  readonly quantum?: number;
  /** Unit of the output and the number of them in 1 mAU. */
  readonly unit: { readonly name: string; readonly perMilli: number };
  /** [min] Added to all times of the output. */
  readonly timeShift: number;
  /** Decimals of the time column, when it was rounded. */
  readonly timeDecimals?: number;
}

export interface TrueDisturbance {
  readonly kind: 'void' | 'spike' | 'bubble' | 'step';
  readonly at: number;
  readonly from: number;
  readonly to: number;
  /** [mAU] Value at a time between `from` and `to`; 0 elsewhere unless `lasting`. */
  readonly value: (time: number) => number;
  readonly lasting?: boolean;
}

export interface TruePeak {
  /** [min] */
  readonly apex: number;
  /** [unit] Signed, of this component alone. */
  readonly height: number;
  /** [unit s] Signed, complete and the part that is in the record (below the ceiling). */
  readonly area: number;
  readonly areaInside: number;
  /** [min] 5 % points of this component alone. */
  readonly start: number;
  readonly end: number;
  /** [min] Width at half height / 2.355. */
  readonly sigma: number;
  /** [-] 2H/h, h over 20 half-widths of detrended background. */
  readonly snr: number;
  /** The noise-free sum has its own extremum there. */
  readonly visible: boolean;
  /** The others stay under 1 % of its height between its 5 % points. */
  readonly isolated: boolean;
  readonly cut: boolean;
  readonly clipped: boolean;
  /** [min] An apex found between these is this one: half a sigma or two samples around the apex. */
  readonly matchFrom: number;
  readonly matchTo: number;
  readonly shape: string;
}

export interface Truth {
  readonly peaks: readonly TruePeak[];
  readonly disturbances: readonly {
    readonly kind: string;
    readonly at: number;
    readonly from: number;
    readonly to: number;
  }[];
  /** [unit] Everything but noise, wander and quantisation. */
  readonly noiseFree: Float64Array;
  /** [unit] Noise, wander and ripple alone. */
  readonly noiseOnly: Float64Array;
  /** [unit] Standard deviation of the noise. */
  readonly noise: number;
  /** [unit² min] Variance of its mean over a long time, times that time; absent when it wanders. */
  readonly noiseDensity?: number;
}

export interface Run {
  readonly family: string;
  readonly seed: number;
  readonly time: Float64Array;
  readonly signal: Float64Array;
  readonly signalUnit: string;
  readonly truth: Truth;
}

export function makeRunFrom(recipe: Recipe, random: Random, family: string, seed: number): Run {
  const { time, peaks } = recipe;
  const n = time.length;
  const first = time[0]!;
  const last = time[n - 1]!;
  const scale = recipe.unit.perMilli;

  const extra = new Float64Array(n); // disturbances that come and go
  const lasting = new Float64Array(n);
  for (const d of recipe.disturbances) {
    for (let i = firstIndex(time, d.from); i < n && (d.lasting === true || time[i]! <= d.to); i++) {
      (d.lasting === true ? lasting : extra)[i]! += d.value(time[i]!);
    }
  }
  const clean = new Float64Array(n);
  for (let i = 0; i < n; i++) clean[i] = recipe.background(time[i]!) + extra[i]! + lasting[i]!;
  for (const p of peaks) {
    const to = p.apex + p.shape.to;
    for (let i = firstIndex(time, p.apex + p.shape.from); i < n && time[i]! <= to; i++) {
      clean[i]! += p.height * p.shape.value(time[i]! - p.apex);
    }
  }

  const noiseOnly = new Float64Array(n);
  const fresh = Math.sqrt(1 - recipe.correlation * recipe.correlation);
  let state = random.normal();
  for (let i = 0; i < n; i++) {
    state = i === 0 ? state : recipe.correlation * state + fresh * random.normal();
    noiseOnly[i] = recipe.noise * state + (recipe.wander?.(time[i]!) ?? 0);
  }

  const ceiling = recipe.ceiling?.level ?? Infinity;
  const signal = new Float64Array(n);
  const capped = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    capped[i] = Math.min(clean[i]!, ceiling);
    let value =
      recipe.ceiling?.noiseAfter === true ? capped[i]! + noiseOnly[i]! : Math.min(clean[i]! + noiseOnly[i]!, ceiling);
    if (recipe.quantum !== undefined) value = Math.round(value / recipe.quantum) * recipe.quantum;
    signal[i] = value * scale;
    capped[i]! *= scale;
  }

  const visible = findVisible(recipe, first, last, ceiling);
  const plateaus = findPlateaus(time, clean, ceiling);
  const truePeaks = peaks.map((p, index): TruePeak => {
    const sigma = p.shape.halfWidth / 2.3548200450309493;
    const start = p.apex + p.shape.left5;
    const end = p.apex + p.shape.right5;
    const cut = start < first || end > last;
    const whole = p.height * p.shape.area * 60;
    let inside =
      cut || p.apex + p.shape.to > last || p.apex + p.shape.from < first ? areaBetween(p, first, last) : whole;
    const plateau = plateaus.find((f) => p.apex >= f.from && p.apex <= f.to);
    let ownsPlateau = false;
    if (plateau !== undefined) {
      ownsPlateau = !peaks.some(
        (o, k) => k !== index && o.apex >= plateau.from && o.apex <= plateau.to && o.height > p.height,
      );
      if (ownsPlateau) inside -= plateau.excess * 60;
    }
    let others = 0;
    for (let k = 0; k <= 80; k++) {
      const t = start + ((end - start) * k) / 80;
      let sum = 0;
      for (const o of peaks) if (o !== p) sum += valueAt(o, t);
      for (const d of recipe.disturbances) if (d.lasting !== true && t >= d.from && t <= d.to) sum += d.value(t);
      others = Math.max(others, Math.abs(sum));
    }
    const near = Math.min(Math.max(p.apex, first), last);
    const spacing = localSpacing(time, near);
    const reach = Math.max(sigma / 2, 2 * spacing) * (1 + 1e-9);
    return {
      apex: p.apex + recipe.timeShift,
      height: p.height * scale,
      area: whole * scale,
      areaInside: inside * scale,
      start: start + recipe.timeShift,
      end: end + recipe.timeShift,
      sigma,
      snr: signalToNoise(recipe, noiseOnly, near, p.height, p.shape.halfWidth),
      visible: plateau === undefined ? visible[index]! : ownsPlateau,
      isolated: others < 0.01 * Math.abs(p.height) && !cut && plateau === undefined,
      cut,
      clipped: plateau !== undefined,
      matchFrom: near - reach + recipe.timeShift,
      matchTo: near + reach + recipe.timeShift,
      shape: p.shape.name,
    };
  });

  const shown = Float64Array.from(time, (t) => {
    const shifted = t + recipe.timeShift;
    if (recipe.timeDecimals === undefined) return shifted;
    const factor = 10 ** recipe.timeDecimals;
    return Math.round(shifted * factor) / factor;
  });
  return {
    family,
    seed,
    time: shown,
    signal,
    signalUnit: recipe.unit.name,
    truth: {
      peaks: truePeaks,
      disturbances: recipe.disturbances.map((d) => ({
        kind: d.kind,
        at: d.at + recipe.timeShift,
        from: d.from + recipe.timeShift,
        to: (d.lasting === true ? d.at : d.to) + recipe.timeShift,
      })),
      noiseFree: capped,
      noiseOnly: noiseOnly.map((v) => v * scale),
      noise: recipe.noise * scale,
      ...(recipe.wander === undefined ? { noiseDensity: noiseDensity(recipe) } : {}),
    },
  };
}

function noiseDensity({ time, noise, correlation, quantum = 0, unit }: Recipe): number {
  const spacing = (time.at(-1)! - time[0]!) / (time.length - 1);
  const variance = (noise * noise * (1 + correlation)) / (1 - correlation) + (quantum * quantum) / 12;
  return variance * spacing * unit.perMilli * unit.perMilli;
}

type RecipePeak = Recipe['peaks'][number];

function valueAt(p: RecipePeak, time: number): number {
  const x = time - p.apex;
  return x < p.shape.from || x > p.shape.to ? 0 : p.height * p.shape.value(x);
}

function areaBetween(p: RecipePeak, first: number, last: number): number {
  const low = Math.max(first, p.apex + p.shape.from);
  const high = Math.min(last, p.apex + p.shape.to);
  if (high <= low) return 0;
  const n = 4000;
  const h = (high - low) / n;
  let sum = (valueAt(p, low) + valueAt(p, high)) / 2;
  for (let i = 1; i < n; i++) sum += valueAt(p, low + i * h);
  return sum * h * 60;
}

function firstIndex(time: Float64Array, from: number): number {
  let low = 0;
  let high = time.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (time[middle]! < from) low = middle + 1;
    else high = middle;
  }
  return low;
}

function localSpacing(time: Float64Array, at: number): number {
  const i = Math.min(Math.max(firstIndex(time, at), 3), time.length - 4);
  return (time[i + 3]! - time[i - 3]!) / 6;
}

/**
 * An extremum of the noise-free sum (peaks and void disturbances, on a grid
 * of its own) belongs to the nearest peak of its sign within half a sigma.
 */
function findVisible(recipe: Recipe, first: number, last: number, ceiling: number): boolean[] {
  const { peaks, disturbances } = recipe;
  const result = peaks.map(() => false);
  const pairs: { peak: number; extremum: number; distance: number }[] = [];
  const sum = (t: number): number => {
    let value = 0;
    for (const p of peaks) value += valueAt(p, t);
    for (const d of disturbances) if (d.kind === 'void' && t >= d.from && t <= d.to) value += d.value(t);
    return Math.min(value, ceiling);
  };
  peaks.forEach((p, index) => {
    const sigma = p.shape.halfWidth / 2.3548200450309493;
    const n = 60;
    const h = sigma / n;
    const sign = Math.sign(p.height);
    let before = sign * sum(p.apex - sigma / 2 - h);
    let here = sign * sum(p.apex - sigma / 2);
    for (let k = 1; k <= n + 1; k++) {
      const t = p.apex - sigma / 2 + k * h;
      const after = sign * sum(t);
      const at = t - h;
      if (here > before && here >= after && at > first && at < last) {
        pairs.push({ peak: index, extremum: at, distance: Math.abs(at - p.apex) });
      }
      before = here;
      here = after;
    }
  });
  pairs.sort((a, b) => a.distance - b.distance);
  const taken: { at: number; sign: number; peak: number }[] = [];
  for (const pair of pairs) {
    const p = peaks[pair.peak]!;
    const close = (p.shape.halfWidth / 2.3548) * 0.04;
    if (result[pair.peak] === true) continue;
    if (taken.some((o) => o.sign === Math.sign(p.height) && Math.abs(o.at - pair.extremum) < close)) continue;
    taken.push({ at: pair.extremum, sign: Math.sign(p.height), peak: pair.peak });
    result[pair.peak] = true;
  }
  return result;
}

function findPlateaus(
  time: Float64Array,
  clean: Float64Array,
  ceiling: number,
): { from: number; to: number; excess: number }[] {
  const plateaus: { from: number; to: number; excess: number }[] = [];
  for (let i = 1; i < time.length; i++) {
    if (clean[i]! <= ceiling) continue;
    const begin = i;
    let excess = 0;
    while (i < time.length && clean[i]! > ceiling) {
      excess += (clean[i]! - ceiling) * ((time[Math.min(i + 1, time.length - 1)]! - time[i - 1]!) / 2);
      i++;
    }
    plateaus.push({ from: time[begin]!, to: time[i - 1]!, excess });
  }
  return plateaus;
}

/** 2H/h: h is the peak-to-peak of noise and wander over 20 half-widths around the peak, less a straight line. */
function signalToNoise(recipe: Recipe, noiseOnly: Float64Array, at: number, height: number, halfWidth: number): number {
  const { time } = recipe;
  const from = firstIndex(time, at - 10 * halfWidth);
  const to = Math.max(firstIndex(time, at + 10 * halfWidth), Math.min(from + 8, time.length));
  let st = 0;
  let sy = 0;
  for (let i = from; i < to; i++) {
    st += time[i]!;
    sy += noiseOnly[i]!;
  }
  const mt = st / (to - from);
  const my = sy / (to - from);
  let stt = 0;
  let sty = 0;
  for (let i = from; i < to; i++) {
    stt += (time[i]! - mt) ** 2;
    sty += (time[i]! - mt) * (noiseOnly[i]! - my);
  }
  const slope = stt > 0 ? sty / stt : 0;
  let low = Infinity;
  let high = -Infinity;
  for (let i = from; i < to; i++) {
    const r = noiseOnly[i]! - my - slope * (time[i]! - mt);
    low = Math.min(low, r);
    high = Math.max(high, r);
  }
  const h = Math.max(high - low, recipe.quantum ?? 0, 1e-12);
  return (2 * Math.abs(height)) / h;
}
