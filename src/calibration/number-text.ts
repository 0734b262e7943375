/** A number in a sentence, to three significant digits unless stated. */
export function short(value: number, digits = 3): string {
  return String(Number(value.toPrecision(digits)));
}

/** The ends of a range in a sentence. */
export function shortRange([from, to]: readonly [number, number], unit: string): string {
  return `${short(from)} to ${short(to)} ${unit}`;
}
