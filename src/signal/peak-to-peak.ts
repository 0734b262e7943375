import { quantileInPlace } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { Noise, PeakToPeak } from './noise.js';
import { quietMean } from './quiet-windows.js';

/** Readings a window must hold. */
const fewestReadings = 10;
/** [-] A window whose scatter about its line exceeds this many short-term standard deviations is not quiet. */
const mostScatter = 3;
/** [-] Squared scatter of quiet windows varies by about this part: more than that of independent readings, for wander. */
const kind = { length: 0, spread: 0.3, kept: 1 };

/** A window and the readings about its straight line. */
interface WindowRange {
  readonly from: number;
  readonly to: number;
  readonly range: number;
  /** [-] Squared scatter over the variance of the noise there. */
  readonly scatter: number;
}

/** Ranges of the quiet windows of a length, side by side from the start of the record; nothing when none is quiet. */
export function peakToPeakOf(trace: Trace, noise: Noise, window: number): PeakToPeak | undefined {
  const { time } = trace;
  const ranges: WindowRange[] = [];
  const end = time[time.length - 1]!;
  let first = 0;
  for (let k = 0; time[0]! + (k + 1) * window <= end * (1 + 1e-12); k++) {
    const to = time[0]! + (k + 1) * window;
    let after = first;
    while (after < time.length && time[after]! < to) after++;
    if (after - first >= fewestReadings && !trace.gaps.some((g) => g.from < to && g.to > to - window)) {
      const { range, scatter } = aboutLine(trace, first, after);
      const most = mostScatter * deviationAt(noise, to - window / 2);
      const squared = scatter > 0 ? (scatter * scatter) / (most * most) : 0;
      if (squared <= 1) ranges.push({ from: to - window, to, range, scatter: squared });
    }
    first = after;
  }
  if (ranges.length === 0) return undefined;
  // Windows that a low peak or a tail reaches into scatter more than the others.
  const { limit } = quietMean(
    Float64Array.from(ranges, (r) => r.scatter),
    ranges.length,
    kind,
  );
  const quiet = ranges.filter((r) => r.scatter <= limit);
  const sorted = Float64Array.from(quiet, (r) => r.range);
  const largest = quiet.reduce((a, b) => (b.range > a.range ? b : a));
  return {
    value: quantileInPlace(sorted, sorted.length, 0.5),
    largest: largest.range,
    from: largest.from,
    to: largest.to,
    window,
    windows: quiet.length,
  };
}

/** [signal unit] Standard deviation of the noise at a time. */
function deviationAt(noise: Noise, t: number): number {
  const { time, value } = noise.along;
  const after = time.findIndex((k) => k >= t);
  if (after === 0) return value[0]!;
  if (after < 0) return value.at(-1)!;
  const part = (t - time[after - 1]!) / (time[after]! - time[after - 1]!);
  return value[after - 1]! + (value[after]! - value[after - 1]!) * part;
}

/** Range and standard deviation of readings about their least-squares line. */
function aboutLine(trace: Trace, first: number, after: number): { readonly range: number; readonly scatter: number } {
  const { time, signal } = trace;
  const n = after - first;
  let mt = 0;
  let my = 0;
  for (let i = first; i < after; i++) {
    mt += time[i]! - time[first]!;
    my += signal[i]! - signal[first]!;
  }
  mt = time[first]! + mt / n;
  my = signal[first]! + my / n;
  let tt = 0;
  let ty = 0;
  for (let i = first; i < after; i++) {
    tt += (time[i]! - mt) * (time[i]! - mt);
    ty += (time[i]! - mt) * (signal[i]! - my);
  }
  const slope = ty / tt;
  let low = Infinity;
  let high = -Infinity;
  let squares = 0;
  for (let i = first; i < after; i++) {
    const r = signal[i]! - my - slope * (time[i]! - mt);
    squares += r * r;
    if (r < low) low = r;
    if (r > high) high = r;
  }
  return { range: high - low, scatter: Math.sqrt(squares / (n - 2)) };
}
