/** Power of ten of a number (3 for 1234, −2 for 0.05), after rounding to so many digits behind the first when given. */
export function exponentOf(value: number, digits?: number): number {
  return Number(value.toExponential(digits).split('e')[1]);
}

/** Power of a thousand that brings a number to 1 or above and below 1000. */
export function thousandsOf(value: number): number {
  return 3 * Math.floor(exponentOf(value) / 3);
}

/** A power of ten, exact where a double is. */
export function tenTo(exponent: number): number {
  return Number(`1e${exponent}`);
}

/** [-] Decimals that give a number so many significant digits, at most 20. */
export function decimalsFor(value: number, digits: number): number {
  return Math.min(Math.max(digits - 1 - exponentOf(value), 0), 20);
}

/** A number with fixed decimals (−3 rounds to thousands), digits in groups of three by a thin space, a real minus sign. */
export function plainNumber(value: number, decimals: number): string {
  const unit = tenTo(Math.max(0, -decimals));
  const size = (unit > 1 ? Math.round(Math.abs(value) / unit) * unit : Math.abs(value)).toFixed(Math.max(0, decimals));
  const grouped = size.replace(/^\d{5,}/, (whole) => whole.replace(/\B(?=(\d{3})+$)/g, '\u2009'));
  return value < 0 && /[1-9]/.test(size) ? `−${grouped}` : grouped;
}

/** A number with so many significant digits, without exponent where it reads well. */
export function significantNumber(value: number, digits: number): string {
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= 1e-4 && size < 1e7) return plainNumber(value, decimalsFor(size, digits));
  const text = value.toExponential(digits - 1);
  return text.replace('+', '').replaceAll('-', '−');
}

/** `10³` and the like. */
export function powerOfTen(exponent: number): string {
  return `10${String(exponent).replace(/./g, (digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)] ?? '⁻')}`;
}

/**
 * A value with its standard uncertainty, rounded to two significant digits of
 * the uncertainty: `74.6 ± 1.4`, `(1.00 ± 0.22) · 10⁹`.
 */
export function valueWithUncertainty(value: number, uncertainty: number): string {
  if (!(uncertainty > 0)) return significantNumber(value, 6);
  const size = Math.max(Math.abs(value), uncertainty);
  const exponent = size >= 1e6 || uncertainty < 1e-5 ? thousandsOf(size) : 0;
  const decimals = Math.min(1 - exponentOf(uncertainty, 1) + exponent, 20);
  const [first, second] = [value, uncertainty].map((number) => plainNumber(number / tenTo(exponent), decimals));
  const text = `${first} ± ${second}`;
  return exponent === 0 ? text : `(${text}) · ${powerOfTen(exponent)}`;
}

/** `1 peak`, `2 peaks`. */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
