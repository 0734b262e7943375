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
 * Round marks between two ends: whole multiples of 1, 2 or 5 times a power of
 * ten, about as many as asked for and at most some 20; none when the ends leave
 * no room for distinct ones.
 */
export function axisTicks(from: number, to: number, count: number): AxisTicks {
  const size = Math.max(Math.abs(from), Math.abs(to));
  const span = to - from;
  if (!(span > 1e-290 && span > 1e-12 * size && size < 1e290)) return { values: [], texts: [], exponent: 0 };
  const wanted = Math.max(1, Math.min(20, Math.round(count)));
  const power = exponentOf(span / wanted);
  // The step nearest in proportion: the bounds are the geometric means of 1, 2, 5 and 10.
  const ratio = span / wanted / tenTo(power);
  const factor = ratio >= Math.sqrt(50) ? 10 : ratio >= Math.sqrt(10) ? 5 : ratio >= Math.SQRT2 ? 2 : 1;
  // Below one the marks are divided by a whole number: 3 / 10 is 0.3, and 3 times 0.1 is not.
  const perUnit = power < 0 ? tenTo(-power) / factor : 1 / (tenTo(power) * factor);
  const mark = (k: number): number => (power < 0 ? k / perUnit : k * tenTo(power) * factor);
  const values: number[] = [];
  for (let k = Math.ceil(from * perUnit - 1e-9) + 0; k <= from * perUnit + span * perUnit + 1e-9; k++)
    values.push(mark(k));
  const exponent = size >= 1e5 || size < 1e-2 ? thousandsOf(size) : 0;
  const decimals = Math.max(0, exponent - exponentOf(mark(1), 3));
  const texts = values.map((value) => plainNumber(value / tenTo(exponent), decimals));
  return { values, texts, exponent };
}
