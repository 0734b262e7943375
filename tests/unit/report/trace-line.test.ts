import { describe, expect, test } from 'vitest';
import { createTrace } from '../../../src/trace/index.js';
import type { Point } from '../../../src/report/scale.js';
import { traceLine } from '../../../src/report/trace-line.js';

const traceOf = (time: ArrayLike<number>, signal: ArrayLike<number>) =>
  createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });

/** Lowest and highest level of a polyline inside each column, by cutting every segment at every edge. */
function rasterExtremes(points: readonly Point[], from: number, width: number, count: number): [number, number][] {
  const extremes: [number, number][] = Array.from({ length: count }, () => [Infinity, -Infinity]);
  const mark = (column: number, y: number): void => {
    const cell = extremes[column];
    if (cell === undefined) return;
    cell[0] = Math.min(cell[0], y);
    cell[1] = Math.max(cell[1], y);
  };
  for (let i = 1; i < points.length; i++) {
    const [[t0, y0], [t1, y1]] = [points[i - 1]!, points[i]!];
    const first = Math.floor((t0 - from) / width);
    const last = Math.floor((t1 - from) / width);
    mark(first, y0);
    mark(last, y1);
    for (let column = first + 1; column <= last; column++) {
      const edge = from + column * width;
      const y = y0 + ((edge - t0) / (t1 - t0)) * (y1 - y0);
      mark(column - 1, y);
      mark(column, y);
    }
  }
  return extremes;
}

describe('traceLine', () => {
  test.each([50, 700, 9973])('looks in every pixel column like the line through all of %i samples', (samples) => {
    let state = 11;
    const random = (): number => (state = (state * 48271) % 2147483647) / 2147483647;
    const time = Float64Array.from({ length: samples }, (_, i) => i * 0.01 + 0.004 * random());
    const signal = time.map(() => 100 * random() ** 8 - 3 * random());
    const from = time[0]!;
    const to = time[samples - 1]!;
    const count = 211;
    const width = (to - from) / count;
    const pieces = traceLine(traceOf(time, signal), from, to, { origin: from, width });
    expect(pieces).toHaveLength(1);
    expect(pieces[0]!.length).toBeLessThanOrEqual(4 * (count + 1));
    const drawn = rasterExtremes(pieces[0]!, from, width, count);
    const all = rasterExtremes(
      Array.from(time, (t, i): Point => [t, signal[i]!]),
      from,
      width,
      count,
    );
    for (let column = 0; column < count; column++) {
      expect(drawn[column]![0]).toBeCloseTo(all[column]![0], 9);
      expect(drawn[column]![1]).toBeCloseTo(all[column]![1], 9);
    }
  });

  test('a single sample in a million is never lost', () => {
    const signal = new Float64Array(1e6);
    signal[654_321] = 7;
    signal[123_456] = -9;
    const time = signal.map((_, i) => i * 1e-4);
    const [piece] = traceLine(traceOf(time, signal), 0, 100, { origin: 0, width: 100 / 800 });
    expect(Math.max(...piece!.map(([, y]) => y))).toBe(7);
    expect(Math.min(...piece!.map(([, y]) => y))).toBe(-9);
    expect(piece!.length).toBeLessThan(3300);
  });

  test('ends between samples are interpolated', () => {
    const trace = traceOf([0, 1, 2, 3], [0, 10, 20, 0]);
    expect(traceLine(trace, 0.5, 2.25, { origin: 0, width: 0.01 })).toEqual([
      [
        [0.5, 5],
        [1, 10],
        [2, 20],
        [2.25, 15],
      ],
    ]);
    expect(traceLine(trace, 1.25, 1.75, { origin: 0, width: 0.1 })).toEqual([
      [
        [1.25, 12.5],
        [1.75, 17.5],
      ],
    ]);
  });

  test('a gap breaks the line, and an end inside it invents no point', () => {
    const trace = { ...traceOf([0, 1, 5, 6], [1, 2, 3, 4]), gaps: [{ from: 1, to: 5 }] };
    const columns = { origin: 0, width: 0.01 };
    expect(traceLine(trace, 0, 6, columns).map((points) => points.map(([t]) => t))).toEqual([
      [0, 1],
      [5, 6],
    ]);
    expect(traceLine(trace, 2, 5.5, columns)).toEqual([
      [
        [5, 3],
        [5.5, 3.5],
      ],
    ]);
    expect(traceLine(trace, 0.5, 3, columns)).toEqual([
      [
        [0.5, 1.5],
        [1, 2],
      ],
    ]);
    expect(traceLine(trace, 2, 3, columns)).toEqual([]);
  });

  test('outside the record there is no line', () => {
    const trace = traceOf([1, 2], [0, 1]);
    expect(traceLine(trace, 3, 4, { origin: 3, width: 0.1 })).toEqual([]);
    expect(traceLine(trace, 0, 0.5, { origin: 0, width: 0.1 })).toEqual([]);
    expect(traceLine(trace, 0, 9, { origin: 0, width: 0.1 })).toEqual([
      [
        [1, 0],
        [2, 1],
      ],
    ]);
  });
});
