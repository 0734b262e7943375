/** A number in a sentence, to three significant digits. */
export function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}
