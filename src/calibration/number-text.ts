/** A number in a sentence, to three significant digits unless stated. */
export function short(value: number, digits = 3): string {
  return String(Number(value.toPrecision(digits)));
}

/** A share as a percentage. */
export function percent(share: number): string {
  return `${short(100 * share)} %`;
}
