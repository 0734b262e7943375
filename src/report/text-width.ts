/**
 * Advance widths in twentieths of the font size, each the widest of three free
 * sans-serif faces (Liberation Sans, its bold, DejaVu Sans) rounded up. A text
 * set in another plain sans-serif is as wide or narrower, so a box sized with
 * this table holds its text without asking a font at run time.
 */
const widths: readonly (readonly [number, string])[] = [
  [4, '\u2009\u202f'],
  [6, "'Iijl"],
  [7, ' ,./:;\\|·'],
  [8, '()-[]ft'],
  [9, '!r²³¹⁰⁴⁵⁶⁷⁸⁹'],
  [10, '"*`°'],
  [11, 'z⁻'],
  [12, 'J_cksvxy–'],
  [13, '$0123456789?FLTabdeghnopqu{}µ'],
  [14, 'EPSVXYZ'],
  [15, 'ABCKNRU'],
  [16, '&DGHOQ'],
  [17, '#+<=>^w~×−±'],
  [18, 'M'],
  [20, '%Wm…'],
  [21, '@'],
];

/** Widths by character; anything else counts as a full square, which holds for the scripts of the world bar ligatures. */
const table: ReadonlyMap<string, number> = new Map(
  widths.flatMap(([width, characters]) => [...characters].map((character) => [character, width] as const)),
);

/** [px] Width of a text on one line at a font size, never less than it will be. */
export function textWidth(text: string, size: number): number {
  let twentieths = 0;
  for (const character of text) twentieths += table.get(character) ?? 20;
  return (twentieths * size) / 20;
}

/** Parts joined by a middle dot, in as many lines as a width makes of them. */
export function joinParts(parts: readonly string[], size: number, room: number): string[] {
  const lines: string[] = [];
  for (const part of parts) {
    const last = lines.at(-1);
    const longer = last === undefined ? part : `${last} · ${part}`;
    if (last !== undefined && textWidth(longer, size) <= room) lines[lines.length - 1] = longer;
    else lines.push(part);
  }
  return lines;
}

/** The text, or as much of its beginning as fits with an ellipsis behind it. */
export function fitText(text: string, size: number, room: number): string {
  if (textWidth(text, size) <= room) return text;
  let kept = '';
  for (const character of text) {
    if (textWidth(`${kept}${character}…`, size) > room) break;
    kept += character;
  }
  return `${kept.trimEnd()}…`;
}
