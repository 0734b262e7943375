import { defined, type Warning } from '../core/index.js';
import { createWorkspace, quantileInPlace } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { layDecisionGrid } from './decision-grid.js';
import type { Noise } from './noise.js';
import { buildPyramid } from './pyramid.js';
import { scanNoise, type ScaleNoise } from './scale-noise.js';

/** [-] Energy falls to this or less from a level to the next where neighbouring means are independent (0.5). */
const independent = 0.62;
/** [-] What grows faster than this is a peak: a random walk grows by 1.25, 1.71, 1.91 ... to 2, and figures scatter. */
const mostGrowth = 2.8;
/** [-] What the sum over the levels holds of the variance of slow noise whose correlation falls off exponentially. */
const caught = 0.81;
/** [-] A part of the run this much noisier than the whole is full of peaks, and takes what the run has. */
const mostRise = 5;

/**
 * The noise of a record, reading by reading: an uneven axis is taken as even,
 * because interpolating would smooth the noise, and a gap becomes a single jump.
 *
 * A level with standard deviation N of its curvatures R = m[i] - (m[i-1] + m[i+1]) / 2
 * holds N² / 3 of the variance: exact in sum for white noise. Levels are summed up to the one
 * from which the energy halves with each doubling, as it does when neighbouring means no longer
 * know of each other, or up to the time scale; going on would take ripple and peaks for noise.
 * Noise whose correlation falls off exponentially gives less in sum, 0.81 of its variance when it is
 * slow; how slow, the share of the finest level in the sum tells: in between it is straight within
 * 0.001 (worked out for correlations of 0 to 0.99). The same share gives the correlation r of
 * neighbours: N² of the finest level is variance (1 - r)(3 - r) / 2.
 *
 * @param timeScale - [min] Slower changes are wander.
 * @param scanned - The same noise by coarseness, where it is known.
 */
export function noiseOf(trace: Trace, timeScale = 1, scanned?: ScaleNoise): Noise {
  const { time } = trace;
  const last = time.length - 1;
  const step = (time[last]! - time[0]!) / last;
  const { calm, parts, quantum } = scanned ?? scanReadings(trace, step);
  const rounding = (quantum * quantum) / 12;
  // Rounding adds white noise of a twelfth of the squared step (Sheppard's correction): it is taken off each level.
  const energy = calm.map((n, l) => Math.max((n * n) / 3 - rounding / 2 / 2 ** l, 0));
  const warnings: Warning[] = [];
  // R spans three means: the cycle that a level shows is about four means long.
  const reach = (l: number) => 4 * step * 2 ** l;
  let variance = energy[0]!;
  let top = 0;
  while (top + 1 < energy.length && (top === 0 || reach(top + 1) <= timeScale)) {
    const own = energy[top]!;
    const next = energy[top + 1]!;
    if (next > mostGrowth * own) {
      variance += own;
      const message = `Peaks hide the noise slower than ${reach(top).toPrecision(2)} min: it was taken to be independent.`;
      warnings.push({ code: 'noise-extrapolated', message });
      break;
    }
    top++;
    variance += next;
    if (next <= independent * own) {
      // From here on it halves: the rest is as much again.
      variance += next;
      break;
    }
  }
  if (variance > 0) variance /= caught + 2 * (1 - caught) * Math.min(energy[0]! / variance, 0.5);
  // Below 0.42 of a step what is seen depends on where between two steps the level lies, from nothing to that.
  const hidden = variance < 0.176 * quantum * quantum;
  if (hidden) {
    const message = `The step of the readings (${quantum}) hides the noise: the figure is that of rounding, step / sqrt(12).`;
    warnings.push({ code: 'noise-hidden', message });
    variance = rounding;
  }
  const run = Math.sqrt(variance);
  const value = parts.map((n) => (hidden || n <= 0 || n > mostRise * calm[0]! ? run : (run * n) / calm[0]!));
  const share = hidden || run === 0 ? 0.5 : energy[0]! / variance;
  return defined({
    standardDeviation: quantileInPlace(Float64Array.from(value), value.length, 0.5),
    along: { time: value.map((_, s) => time[Math.round(((s + 0.5) / value.length) * last)]!), value },
    correlation: 2 - Math.sqrt(1 + 6 * share),
    quantisation: quantum > 0 ? quantum : undefined,
    timeScale: reach(top),
    warnings: warnings.length > 0 ? warnings : undefined,
  });
}

function scanReadings(trace: Trace, step: number): ScaleNoise {
  const workspace = createWorkspace();
  const time = trace.time.map((_, i) => i * step);
  return scanNoise(buildPyramid(layDecisionGrid({ ...trace, time }, workspace), workspace), workspace);
}
