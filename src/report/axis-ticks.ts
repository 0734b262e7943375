import { ticks, tickStep } from 'd3-array';
import { exponentOf, plainNumber, tenTo, thousandsOf } from './number-text.js';

/** Marks of an axis with their texts. */
export interface AxisTicks {
  /** [unit of the axis] Where the marks stand. */
  readonly values: readonly number[];
  /** Their texts, in order. */
  readonly texts: readonly string[];
  /** Power of ten taken out of the texts; 0 when they are plain. */
  readonly exponent: number;
}

/**
 * Round marks between two ends, at most 20 and none when the ends leave no
 * room for distinct ones: `ticks` itself runs out of memory on a large count
 * and throws on a span too small for its numbers.
 */
export function axisTicks(from: number, to: number, count: number): AxisTicks {
  const size = Math.max(Math.abs(from), Math.abs(to));
  const span = to - from;
  if (!(span > 1e-290 && span > 1e-12 * size && size < 1e290)) return { values: [], texts: [], exponent: 0 };
  const wanted = Math.max(1, Math.min(20, Math.round(count)));
  const values = ticks(from, to, wanted);
  const exponent = size >= 1e5 || size < 1e-2 ? thousandsOf(size) : 0;
  const decimals = Math.max(0, exponent - exponentOf(tickStep(from, to, wanted), 3));
  const texts = values.map((value) => plainNumber(value / tenTo(exponent), decimals));
  return { values, texts, exponent };
}
