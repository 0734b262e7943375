/** A straight map from a quantity to the drawing. */
export interface Scale {
  /** [unit of the quantity] Value at `start`. */
  readonly from: number;
  /** [unit of the quantity] Value at `end`; differs from `from`. */
  readonly to: number;
  /** [px] Where `from` is drawn. */
  readonly start: number;
  /** [px] Where `to` is drawn. */
  readonly end: number;
}

/** [px] Where a value is drawn. */
export function place(scale: Scale, value: number): number {
  return scale.start + ((value - scale.from) / (scale.to - scale.from)) * (scale.end - scale.start);
}
