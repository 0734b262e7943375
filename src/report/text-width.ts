import { textSize } from './look.js';

/**
 * Advance widths in twentieths of the font size, each at least the widest of
 * three free sans-serif faces (Liberation Sans, its bold, DejaVu Sans). A text
 * set in another plain sans-serif is as wide or narrower, so a box sized with
 * this table holds its text without asking a font at run time. Anything else
 * counts as a full square, which holds for the scripts of the world bar
 * ligatures.
 */
const widths: readonly (readonly [number, string])[] = [
  [7, "'Iijl ,./:;\\|·\u2009\u202f"],
  [9, '()-[]ft!r²³¹⁰⁴⁵⁶⁷⁸⁹'],
  [12, 'J_cksvxyz–"*`°⁻'],
  [13, '$0123456789?FLTabdeghnopqu{}µ'],
  [16, 'ABCDEGHKNOPQRSUVXYZ&'],
  [17, '#+<=>^w~×−±'],
  [21, '@'],
];

/** [px] Width of a text on one line, never less than it will be. */
export function textWidth(text: string, size: number = textSize): number {
  let twentieths = 0;
  for (const character of text) twentieths += widths.find(([, set]) => set.includes(character))?.[0] ?? 20;
  return (twentieths * size) / 20;
}

/** Parts joined by a middle dot, in as many lines as a width makes of them. */
export function joinParts(parts: readonly string[], room: number): string[] {
  const lines: string[] = [];
  for (const part of parts) {
    const longer = `${lines.at(-1)} · ${part}`;
    if (lines.length > 0 && textWidth(longer) <= room) lines[lines.length - 1] = longer;
    else lines.push(part);
  }
  return lines;
}

/** The text, or as much of its beginning as fits with an ellipsis behind it. */
export function fitText(text: string, room: number, size: number = textSize): string {
  if (textWidth(text, size) <= room) return text;
  let kept = '';
  for (const character of text) {
    if (textWidth(`${kept}${character}…`, size) > room) break;
    kept += character;
  }
  return `${kept.trimEnd()}…`;
}
