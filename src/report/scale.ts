import { coordinate } from './markup.js';

/** A straight map from a quantity to the drawing. */
export interface Scale {
  /** [unit of the quantity] Value at `start`. */
  readonly from: number;
  /** [unit of the quantity] Value at `end`; differs from `from`. */
  readonly to: number;
  /** [px] Where `from` is drawn: the left or lower edge. */
  readonly start: number;
  /** [px] Where `to` is drawn: the right or upper edge. */
  readonly end: number;
}

/** Two numbers: of the data, or places of the drawing [px]. */
export type Point = readonly [x: number, y: number];

/** [px] Where a value is drawn. */
export function place(scale: Scale, value: number): number {
  return scale.start + ((value - scale.from) / (scale.to - scale.from)) * (scale.end - scale.start);
}

/** [px] A value held between two others. */
export function hold(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

/** [px] Where points are drawn. */
export function placeAll(points: readonly Point[], x: Scale, y: Scale): Point[] {
  return points.map(([a, b]) => [place(x, a), place(y, b)]);
}

/** Path data of a line through points of the drawing; a lone one gets a short stroke, to be seen. */
export function pathOf(points: readonly Point[]): string {
  const corners = points.map(([x, y]) => `${coordinate(x)} ${coordinate(y)}`);
  return `M${corners.join('L')}${points.length === 1 ? 'h0.6' : ''}`;
}

/** Path data of a line through points of the data. */
export function pathAlong(points: readonly Point[], x: Scale, y: Scale): string {
  return pathOf(placeAll(points, x, y));
}
