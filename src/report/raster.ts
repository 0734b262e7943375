import { hold, type Point } from './scale.js';

/** A rectangle of the drawing, [px]. */
export interface Box {
  /** [px] Left edge. */
  readonly left: number;
  /** [px] Upper edge. */
  readonly top: number;
  /** [px] Right edge. */
  readonly right: number;
  /** [px] Lower edge. */
  readonly bottom: number;
}

/** Which squares of a part of the drawing are taken. */
export interface Raster {
  /** Whether a rectangle reaches into a taken square; when told to take, takes all of its squares instead. */
  readonly box: (box: Box, take?: boolean) => boolean;
  /** The same for a line. */
  readonly line: (points: readonly Point[], take?: boolean) => boolean;
}

/** [px] Side of a square. */
const cell = 2;

/** A raster with nothing taken. What lies outside its bounds counts as at their edge. */
export function createRaster({ left, top, right, bottom }: Box): Raster {
  const columnOf = (x: number): number => Math.floor((hold(x, left, right) - left) / cell);
  const rowOf = (y: number): number => Math.floor((hold(y, top, bottom) - top) / cell);
  const columns = columnOf(right) + 1;
  const taken = new Uint8Array(columns * (rowOf(bottom) + 1));
  const box = (area: Box, take = false): boolean => {
    const [first, last] = [columnOf(area.left), columnOf(area.right)];
    for (let row = rowOf(area.top); row <= rowOf(area.bottom); row++) {
      const from = row * columns;
      if (take) taken.fill(1, from + first, from + last + 1);
      else if (taken.subarray(from + first, from + last + 1).includes(1)) return true;
    }
    return false;
  };
  /** A line is a rectangle in each column it passes. */
  const line = (points: readonly Point[], take?: boolean): boolean =>
    points.some(([x2, y2], i) => {
      const [x1, y1] = points[Math.max(0, i - 1)]!;
      const steps = Math.ceil(Math.abs(x2 - x1) / cell) || 1;
      return Array.from({ length: steps }).some((_, step) => {
        const x = x1 + ((x2 - x1) * step) / steps;
        const y = y1 + ((y2 - y1) * step) / steps;
        const next = y + (y2 - y1) / steps;
        return box({ left: x, right: x, top: Math.min(y, next), bottom: Math.max(y, next) }, take);
      });
    });
  return { box, line };
}
