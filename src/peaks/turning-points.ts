/**
 * The extremes of a signal that rise or fall by more than a threshold on both
 * sides: alternating maxima and minima, the ends included.
 */
export interface TurningPoints {
  /** Index of each point. */
  readonly index: readonly number[];
  /** Whether the first is a maximum; they alternate from there. */
  readonly firstIsMaximum: boolean;
}

/**
 * One scan: a maximum is certain once the signal has fallen from it by
 * `threshold`, a minimum once it has risen by it. `thresholds[k]` holds for
 * points k * `stretch` to (k + 1) * `stretch`.
 */
export function findTurningPoints(values: Float64Array, thresholds: Float64Array, stretch: number): TurningPoints {
  const index: number[] = [];
  const n = values.length;
  let seeking = 0; // 1: a maximum, -1: a minimum, 0: not known yet
  let high = values[0]!;
  let low = high;
  let highAt = 0;
  let lowAt = 0;
  let firstIsMaximum = false;
  for (let block = 0, i = 1; i < n; block++) {
    const to = Math.min(n, (block + 1) * stretch);
    const threshold = thresholds[Math.min(block, thresholds.length - 1)]!;
    for (; i < to; i++) {
      const v = values[i]!;
      if (seeking >= 0) {
        if (v > high) {
          high = v;
          highAt = i;
        } else if (v < high - threshold) {
          if (index.length === 0) firstIsMaximum = true;
          index.push(highAt);
          seeking = -1;
          low = v;
          lowAt = i;
          continue;
        }
      }
      if (seeking <= 0) {
        if (v < low) {
          low = v;
          lowAt = i;
        } else if (v > low + threshold) {
          index.push(lowAt);
          seeking = 1;
          high = v;
          highAt = i;
        }
      }
    }
  }
  // The last extreme has only one side.
  if (index.length > 0) index.push(seeking > 0 ? highAt : lowAt);
  return { index, firstIsMaximum };
}
