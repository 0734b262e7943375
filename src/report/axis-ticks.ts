import { ticks } from 'd3-array';

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
  const usable = Number.isFinite(from) && Number.isFinite(to) && to - from > 1e-12 * size && size < 1e290;
  const wanted = Math.max(1, Math.min(20, Math.round(count)));
  const values = usable && to - from > 1e-290 ? ticks(from, to, wanted) : [];
  const exponent = exponentFor(size, to - from);
  const scaled = values.map((value) => scaleDown(value, exponent));
  const decimals = decimalsFor(scaled);
  return { values, texts: scaled.map((value) => plainNumber(value, decimals)), exponent };
}

/** Multiple of three that brings large or tiny numbers near 1; 0 for numbers that read well as they are. */
function exponentFor(size: number, span: number): number {
  let exponent = 0;
  if (size >= 1e5) while (exponent < 300 && size / Number(`1e${exponent + 3}`) >= 1) exponent += 3;
  else if (span > 0 && size < 1e-2) while (exponent > -300 && size * Number(`1e${-exponent}`) < 1) exponent -= 3;
  return exponent;
}

function scaleDown(value: number, exponent: number): number {
  return exponent >= 0 ? value / Number(`1e${exponent}`) : value * Number(`1e${-exponent}`);
}

/** Decimals that tell neighbouring marks apart and write each exactly. */
function decimalsFor(values: readonly number[]): number {
  const step = values.length > 1 ? Math.abs(values[1]! - values[0]!) : Math.abs(values[0] ?? 0);
  if (step === 0) return 0;
  for (let decimals = 0; decimals < 12; decimals++) {
    const scaled = step * Number(`1e${decimals}`);
    if (scaled >= 0.5 && Math.abs(scaled - Math.round(scaled)) < 1e-6 * scaled) return decimals;
  }
  return 12;
}

/** A number with fixed decimals, thousands set apart by a thin space, and a real minus sign. */
export function plainNumber(value: number, decimals: number): string {
  if (Math.abs(value) >= 1e21) return String(value).replace('-', '−');
  const text = Math.abs(value).toFixed(decimals);
  const [whole, fraction] = text.split('.') as [string, string | undefined];
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, '\u2009') : whole;
  const minus = value < 0 && /[1-9]/.test(text) ? '−' : '';
  return `${minus}${grouped}${fraction === undefined ? '' : `.${fraction}`}`;
}

/** A number with so many significant digits, without exponent where it reads well. */
export function significantNumber(value: number, digits: number): string {
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= 1e7 || size < 1e-4)
    return value
      .toExponential(digits - 1)
      .replace('e+', 'e')
      .replace(/-/g, '−');
  let decimals = digits - 1;
  for (let bound = 10; bound <= size && decimals > 0; bound *= 10) decimals--;
  for (let bound = 1; size < bound && decimals < 20; bound /= 10) decimals++;
  return plainNumber(value, decimals);
}

/** `10³` and the like. */
export function powerOfTen(exponent: number): string {
  const raised = '⁰¹²³⁴⁵⁶⁷⁸⁹';
  return `10${String(exponent)
    .replace(/\d/g, (digit) => raised[Number(digit)]!)
    .replace('-', '⁻')}`;
}
