import type { Warning } from '../core/index.js';
import { quantileInPlace, type Workspace } from '../numeric/index.js';
import { measureEnergy } from './noise-energy.js';
import type { Noise } from './noise.js';
import type { Pyramid } from './pyramid.js';
import type { ScaleNoise } from './scale-noise.js';

/** [min] Noise faster than one cycle a minute is short-term noise. */
export const shortTerm = 1;
/** [-] Mean square falls to this or less from a level to the next where neighbouring means are independent (0.5). */
const independent = 0.62;
/**
 * [-] What grows faster than this from a level to the next is a peak, or a smooth ripple: a random walk grows by
 * 1.25, 1.71, 1.91, 1.98 ... to 2, and measured figures scatter.
 */
const mostGrowth = [2.4, 2.2, 2.2, 2.3];
/** [-] A ripple is alike in this share of the windows or more; peaks leave fewer. */
const alike = 0.5;
/** [-] No higher correlation is believed when the slow part of the noise could not be seen. */
const mostCorrelation = 0.95;

/**
 * The noise of what a pyramid was built on. Levels are summed up to the one
 * from which the energy halves with each doubling, as it does when neighbouring
 * means no longer know of each other, or up to the time scale. Going on further
 * would find weak ripple, and take peaks for it.
 *
 * A level with mean square N² of R = m[i] - (m[i-1] + m[i+1]) / 2 holds N² / 3
 * of the variance: exact in sum for white noise. Noise whose correlation falls off
 * exponentially gives less, 0.81 of its variance when it is slow; how slow, the
 * share of the finest level in the sum tells. The same share gives the
 * correlation r of neighbours: mean square = variance (1 - r)(3 - r) / 2. Where
 * peaks leave no quiet window at a level that is needed, the correlation is
 * taken from the levels below as that of such noise.
 *
 * @param timeScale - [min] Slower changes are wander.
 */
export function noiseOf(
  pyramid: Pyramid,
  scale: Pick<ScaleNoise, 'quantum'>,
  workspace: Workspace,
  timeScale: number = shortTerm,
): Noise {
  const { strength, level, quiet } = measureEnergy(pyramid, workspace);
  const { quantum } = scale;
  const rounding = (quantum * quantum) / 12;
  const sorted = workspace.take('noise strength', strength.length);
  sorted.set(strength);
  const middle = quantileInPlace(sorted, strength.length, 0.5);
  // Rounding adds white noise of a twelfth of the squared step (Sheppard's correction): it is taken off each level.
  const energy = level.map((part, l) => Math.max((middle * part) / 3 - rounding / 2 / 2 ** l, 0));
  const sum = sumEnergy(energy, quiet, pyramid.step, timeScale);
  // Below 0.42 of a step what is seen depends on where between two steps the level lies, from nothing to that.
  const hidden = quantum > 0 && sum.variance < 0.176 * quantum * quantum;
  const variance = hidden ? rounding : sum.variance;
  // Where rounding is most of what the finest level shows, taking it off would leave chance.
  const off = energy[0]! >= rounding / 2 ? rounding / 2 : 0;
  const finest = middle / 3 - off;
  const along = Array.from(strength, (own) => {
    if (hidden || finest <= 0) return Math.sqrt(variance);
    return Math.sqrt(Math.max((variance * (own / 3 - off)) / finest, rounding, 0));
  });
  const span = (pyramid.levels[0]!.length - 1) * pyramid.step;
  const warnings: Warning[] = [];
  if (hidden) {
    const message = `The noise is hidden by the step of the readings (${quantum}); the standard deviation given is that of rounding, step / sqrt(12).`;
    warnings.push({ code: 'noise-hidden', message });
  }
  if (sum.interrupted) {
    const message = `Peaks leave too little free to see how noise slower than ${sum.timeScale.toPrecision(2)} min adds up: its correlation was taken to fall off exponentially.`;
    warnings.push({ code: 'noise-extrapolated', message });
  }
  return {
    standardDeviation: Math.sqrt(variance),
    along: { time: along.map((_, s) => pyramid.start + (span * (s + 0.5)) / along.length), value: along },
    correlation: hidden || variance <= 0 ? 0 : 2 - Math.sqrt(1 + (6 * energy[0]!) / variance),
    ...(quantum > 0 ? { quantisation: quantum } : {}),
    timeScale: sum.timeScale,
    ...(warnings.length > 0 ? { warnings } : {}),
  };
}

/** Variance of the noise faster than the time scale, and what scale was reached. */
function sumEnergy(
  energy: readonly number[],
  quiet: readonly number[],
  step: number,
  timeScale: number,
): { readonly variance: number; readonly timeScale: number; readonly interrupted: boolean } {
  let sum = energy[0]!;
  let top = 0;
  // R spans three means: the cycle that a level shows is about four means long.
  const reach = (l: number) => 4 * step * 2 ** l;
  while (top + 1 < energy.length && (top === 0 || reach(top + 1) <= timeScale)) {
    const next = energy[top + 1]!;
    if (next > mostGrowth[Math.min(top, 3)]! * energy[top]! && quiet[top + 1]! < alike) {
      const r = top === 0 ? 0 : correlationFrom(energy[top]! / energy[0]!, top);
      return { variance: (6 * energy[0]!) / ((1 - r) * (3 - r)), timeScale: reach(top), interrupted: true };
    }
    top++;
    sum += next;
    if (next <= independent * energy[top - 1]!) {
      // From here on it halves: the rest is as much again.
      sum += next;
      break;
    }
  }
  return { variance: sum / caught(sum > 0 ? energy[0]! / sum : 0.5), timeScale: reach(top), interrupted: false };
}

/**
 * [-] What the sum over the levels holds of the variance of noise whose
 * correlation falls off exponentially, from the share of the finest level: straight
 * from 0.812 to 1 within 0.001 (worked out for correlations of 0 to 0.99).
 */
function caught(share: number): number {
  return 0.8116 + 0.3768 * Math.min(share, 0.5);
}

/** [-] Correlation of neighbours, falling off exponentially, that gives a level this energy relative to the finest. */
function correlationFrom(ratio: number, level: number): number {
  let low = 0;
  let high = mostCorrelation;
  for (let round = 0; round < 40; round++) {
    const r = 0.5 * (low + high);
    if (levelEnergy(r, level) > ratio * levelEnergy(r, 0)) high = r;
    else low = r;
  }
  return low;
}

/** [-] Mean square of R at a level over 3 for unit variance and correlation r of neighbours, r², r³ ... further on. */
function levelEnergy(r: number, level: number): number {
  const n = 2 ** level;
  let power = 1;
  let own = n;
  let sum = 0;
  for (let d = 1; d < n; d++) {
    sum += power; // 1 + r + ... + r^(d-1)
    power *= r;
    own += 2 * (n - d) * power;
  }
  sum += power;
  power *= r;
  const next = r * sum * sum;
  return (1.5 * own - 2 * next + 0.5 * next * power) / (3 * n * n);
}
