import { PeakwrightError } from '../core/index.js';

/** Throws when a number is NaN or infinite, which no table and no JSON can hold; says where. */
export function checkFinite(value: number, field: string): void {
  if (Number.isFinite(value)) return;
  throw new PeakwrightError('result-not-finite', `${field} is ${value}: leave out what is not known.`, {
    field,
    value,
  });
}
