import { checkNumber } from '../core/index.js';

/** Refuses a width or height of a picture that is not a number from a least one to 8000 px. */
export function checkSize(caller: string, field: string, size: number, least: number): void {
  checkNumber(caller, field, size, `from ${least} to 8000 px`, (v) => v >= least && v <= 8000);
}
