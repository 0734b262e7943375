import { plainNumber, powerOfTen, significantNumber } from './axis-ticks.js';

/**
 * A value with its standard uncertainty, rounded to two significant digits of
 * the uncertainty: `74.6 ± 1.4`, `(1.00 ± 0.22) · 10⁹`.
 */
export function valueWithUncertainty(value: number, uncertainty: number): string {
  if (!(uncertainty > 0)) return significantNumber(value, 6);
  let exponent = 0;
  const size = Math.max(Math.abs(value), uncertainty);
  if (size >= 1e6) while (size / Number(`1e${exponent + 3}`) >= 1) exponent += 3;
  else if (uncertainty < 1e-5) while (size * Number(`1e${-exponent}`) < 1) exponent -= 3;
  const scale = (number: number): number =>
    exponent >= 0 ? number / Number(`1e${exponent}`) : number * Number(`1e${-exponent}`);
  const text = roundedPair(scale(value), scale(uncertainty));
  return exponent === 0 ? text : `(${text}) · ${powerOfTen(exponent)}`;
}

function roundedPair(value: number, uncertainty: number): string {
  let decimals = 1;
  let unit = 1;
  for (let bound = 10; bound <= uncertainty; bound *= 10) {
    if (decimals > 0) decimals--;
    else unit *= 10;
  }
  for (let bound = 1; uncertainty < bound && decimals < 15; bound /= 10) decimals++;
  const round = (number: number): string => plainNumber(Math.round(number / unit) * unit, 0);
  if (unit > 1) return `${round(value)} ± ${round(uncertainty)}`;
  return `${plainNumber(value, decimals)} ± ${plainNumber(uncertainty, decimals)}`;
}
