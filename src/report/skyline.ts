import { place, type Scale } from './scale.js';
import type { LinePiece } from './trace-line.js';

/** How far a line reaches up and down in each pixel column. */
export interface Skyline {
  /** [px] Uppermost extent per column from the left edge. */
  readonly upper: Float64Array;
  /** [px] Lowermost extent. */
  readonly lower: Float64Array;
}

/** Extents of lines per pixel column, held between two edges; columns without line are free. */
export function skyline(lines: readonly LinePiece[], x: Scale, y: Scale, top: number, bottom: number): Skyline {
  const left = x.start;
  const count = Math.max(1, Math.ceil(x.end - x.start));
  const upper = new Float64Array(count).fill(bottom);
  const lower = new Float64Array(count).fill(top);
  const mark = (column: number, level: number): void => {
    const held = Math.min(Math.max(level, top), bottom);
    if (held < upper[column]!) upper[column] = held;
    if (held > lower[column]!) lower[column] = held;
  };
  for (const { time, value } of lines) {
    let previousX = 0;
    let previousY = 0;
    for (let i = 0; i < time.length; i++) {
      const px = place(x, time[i]!) - left;
      const py = place(y, value[i]!);
      if (i === 0) mark(hold(px, count), py);
      else {
        const first = hold(previousX, count);
        const last = hold(px, count);
        for (let column = first; column <= last; column++) {
          const slope = px === previousX ? 0 : (py - previousY) / (px - previousX);
          mark(column, column === first ? previousY : previousY + slope * (column - previousX));
          mark(column, column === last ? py : previousY + slope * (column + 1 - previousX));
        }
      }
      previousX = px;
      previousY = py;
    }
  }
  return { upper, lower };
}

function hold(position: number, count: number): number {
  return Math.min(Math.max(Math.floor(position), 0), count - 1);
}
