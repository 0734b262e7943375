import { firstAtOrAfter, polylineAt, quantileInPlace, rangeAboutLine } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { Noise, PeakToPeak } from './noise.js';
import { calmMean } from './scale-noise.js';

/** Readings a window must hold. */
const fewestReadings = 10;
/** [-] A window whose range exceeds this many short-term standard deviations is not quiet. */
const mostRange = 14;
/** [-] Ranges of quiet windows differ by about this part. */
const spread = 0.2;

/** Ranges of the quiet windows of a length, side by side from the start of the record; nothing when none is quiet. */
export function peakToPeakOf(trace: Trace, noise: Noise, window: number): PeakToPeak | undefined {
  const { time, signal, gaps } = trace;
  const all: { range: number; from: number; to: number }[] = [];
  const end = time[time.length - 1]! * (1 + 1e-12);
  for (let from = time[0]!, k = 1; from + window <= end; k++) {
    const to = time[0]! + k * window;
    const [first, after] = [firstAtOrAfter(time, from), firstAtOrAfter(time, to)];
    if (after - first >= fewestReadings && !gaps.some((g) => g.from < to && g.to > from)) {
      const range = rangeAboutLine(time, signal, [[first, after]]);
      if (range <= mostRange * polylineAt(noise.along, (from + to) / 2)) all.push({ range, from, to });
    }
    from = to;
  }
  const ranges = Float64Array.from(all, ({ range }) => range);
  // Windows that a low peak or a tail reaches into have wider ranges than the others.
  const { limit } = calmMean(ranges, spread);
  const quiet = all.filter(({ range }) => range <= limit).sort((a, b) => a.range - b.range);
  const widest = quiet.at(-1);
  if (widest === undefined) return undefined;
  const { range: largest, from, to } = widest;
  const value = quantileInPlace(ranges.sort(), quiet.length, 0.5);
  return { value, largest, from, to, window, windows: quiet.length };
}
