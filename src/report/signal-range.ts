import type { ChromatogramModel } from './chromatogram-model.js';

/** Levels at the ends of a view. */
export interface SignalRange {
  /** [signal unit] Lower end. */
  readonly low: number;
  /** [signal unit] Upper end, above it. */
  readonly high: number;
}

/** What was asked of the ends. */
export interface SignalRangeAsked {
  /** [signal unit] Lower end. */
  readonly low: number | 'automatic';
  /** [signal unit] Upper end. */
  readonly high: number | 'automatic';
}

/** Lowest and highest level to show; never an empty span. */
export function signalRange(model: ChromatogramModel, asked: SignalRangeAsked): SignalRange {
  let low = Infinity;
  let high = -Infinity;
  const take = (value: number): void => {
    if (value < low) low = value;
    if (value > high) high = value;
  };
  for (const piece of [...model.line, ...model.baselines]) piece.value.forEach(take);
  for (const shape of model.peaks) {
    if (shape.peak.retentionTime >= model.from && shape.peak.retentionTime <= model.to) take(shape.apexLevel);
  }
  if (low > high) [low, high] = [0, 1];
  if (asked.low !== 'automatic') low = asked.low;
  if (asked.high !== 'automatic') high = asked.high;
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (!(high - low > 1e-9 * size)) {
    const room = size > 0 ? 0.05 * size : 1;
    if (asked.low === 'automatic') low = Math.min(low, high) - room;
    if (asked.high === 'automatic') high = low + 2 * room;
  }
  return { low, high };
}
