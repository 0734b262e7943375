import { failOption } from '../core/index.js';

/** Refuses a width or height of a picture that is not a number from a least one to 8000 px. */
export function checkSize(caller: string, field: string, size: number, least: number): void {
  if (!(Number.isFinite(size) && size >= least && size <= 8000))
    failOption(caller, field, `from ${least} to 8000 px`, size);
}
