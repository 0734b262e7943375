import { sgg } from 'ml-savitzky-golay-generalized';
import { xMedian, xyInterpolateLinear } from 'ml-spectra-processing';
import type { Analyser, FoundPeak } from './score.js';

/**
 * A plain pipeline from general-purpose libraries, as a colleague would write
 * it in an afternoon: even axis, Savitzky-Golay at three widths, noise from
 * differences, a baseline through medians of what holds no peak, maxima with
 * enough prominence, limits at the baseline or the valley, trapezoids.
 */
export const peerAnalyser: Analyser = (time, signal) => {
  const n = time.length;
  const first = time[0]!;
  const step = (time[n - 1]! - first) / (n - 1);
  const axis = Float64Array.from({ length: n }, (_, i) => Math.min(first + i * step, time[n - 1]!));
  const even = Float64Array.from(xyInterpolateLinear({ x: time, y: signal }, axis));
  const differences = Float64Array.from({ length: n - 2 }, (_, i) =>
    Math.abs(even[i]! - 2 * even[i + 1]! + even[i + 2]!),
  );
  const noise = Math.max(xMedian(differences) / 0.6745 / Math.sqrt(6), 1e-12);
  const smooth = sgg(even, 1, { windowSize: 11, polynomial: 2, derivative: 0 });
  const baseline = medianBaseline(axis, smooth, noise);
  const corrected = smooth.map((v, i) => v - baseline[i]!);
  const local = Math.max(noise, spread(corrected));
  const peaks = [
    ...findMaxima(axis, even, baseline, corrected, local, 1),
    ...findMaxima(
      axis,
      even,
      baseline,
      corrected.map((v) => -v),
      local,
      -1,
    ),
  ];
  return { peaks };
};

function spread(corrected: Float64Array): number {
  return xMedian(corrected.map((v) => Math.abs(v))) / 0.6745;
}

/** Medians of blocks whose values stay near the running line, joined by straight lines, three rounds. */
function medianBaseline(axis: Float64Array, smooth: Float64Array, noise: number): Float64Array {
  const n = axis.length;
  let used = new Uint8Array(n).fill(1);
  let line = new Float64Array(n);
  const block = Math.max(20, Math.round(n / 80));
  for (let round = 0; round < 6; round++) {
    const x: number[] = [];
    const y: number[] = [];
    for (let from = 0; from < n; from += block) {
      const values: number[] = [];
      for (let i = from; i < Math.min(n, from + block); i++) if (used[i] === 1) values.push(smooth[i]!);
      if (values.length < block / 3) continue;
      x.push(axis[Math.min(n - 1, from + (block >> 1))]!);
      y.push(xMedian(values));
    }
    if (x.length === 0) {
      x.push(axis[0]!);
      y.push(xMedian(smooth));
    }
    x.unshift(axis[0]! - 1e-9);
    y.unshift(y[0]!);
    x.push(axis[n - 1]! + 1e-9);
    y.push(y[y.length - 1]!);
    line = Float64Array.from(xyInterpolateLinear({ x, y }, axis));
    const residual = smooth.map((v, i) => v - line[i]!);
    const limit = Math.max(2.5 * noise, 2 * spread(residual));
    used = Uint8Array.from(residual, (v) => (Math.abs(v) < limit ? 1 : 0));
  }
  return line;
}

function findMaxima(
  axis: Float64Array,
  raw: Float64Array,
  baseline: Float64Array,
  y: Float64Array,
  noise: number,
  sign: 1 | -1,
): FoundPeak[] {
  const n = y.length;
  const threshold = 6 * noise;
  const found: FoundPeak[] = [];
  let i = 1;
  while (i < n - 1) {
    if (y[i]! < threshold) {
      i++;
      continue;
    }
    // one stretch above the noise
    let from = i;
    while (from > 0 && y[from]! > noise / 2) from--;
    let to = i;
    while (to < n - 1 && y[to]! > noise / 2) to++;
    const tops: number[] = [];
    const valleys: number[] = [from];
    let lowest = from;
    let top = from;
    let rising = true;
    for (let k = from + 1; k <= to; k++) {
      if (rising) {
        if (y[k]! > y[top]!) top = k;
        else if (y[top]! - y[k]! > threshold / 2 && y[top]! > threshold) {
          tops.push(top);
          lowest = k;
          rising = false;
        }
      } else if (y[k]! < y[lowest]!) lowest = k;
      else if (y[k]! - y[lowest]! > threshold / 2) {
        valleys.push(lowest);
        top = k;
        rising = true;
      }
    }
    if (rising && y[top]! > threshold && top > (valleys[valleys.length - 1] ?? from) && tops.length < valleys.length)
      tops.push(top);
    valleys[tops.length] = to;
    tops.forEach((apex, k) => {
      const a = valleys[k]!;
      const b = valleys[k + 1]!;
      if (b - a < 7) return;
      let area = 0;
      for (let m = a; m < b; m++) {
        area += ((raw[m]! - baseline[m]! + raw[m + 1]! - baseline[m + 1]!) / 2) * (axis[m + 1]! - axis[m]!) * 60;
      }
      found.push({
        retentionTime: axis[apex]!,
        height: sign * y[apex]!,
        area,
        start: axis[a]!,
        end: axis[b]!,
        direction: sign > 0 ? 'up' : 'down',
      });
    });
    i = to + 1;
  }
  return found;
}
