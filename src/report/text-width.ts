import { textSize } from './look.js';

/**
 * Advance widths in twentieths of the font size, each at least the widest of
 * three free sans-serif faces (Liberation Sans, its bold, DejaVu Sans). A text
 * set in another plain sans-serif is as wide or narrower, so a box sized with
 * this table holds its text without asking a font at run time. Anything else
 * counts as a full square, which holds for the scripts of the world bar
 * ligatures.
 */
const widths: readonly (readonly [number, RegExp])[] = [
  [7, /['Iijl ,./:;\\|·\u2009\u202f]/],
  [9, /[-()[\]ft!r²³¹⁰⁴-⁹]/],
  [17, /[w#+<=>^~×−±]/],
  [13, /[$?FLTJ{}µ"*`°–⁻_\da-ln-z]/],
  [16, /[A-LN-VX-Z&]/],
];

/** [px] Width of a text on one line, never less than it will be. */
export function textWidth(text: string, size: number = textSize): number {
  let twentieths = 0;
  for (const character of text) twentieths += widths.find(([, set]) => set.test(character))?.[0] ?? 21;
  return (twentieths * size) / 20;
}

/** [px] Width of the widest of some texts. */
export function widest(texts: readonly string[]): number {
  return Math.max(0, ...texts.map((text) => textWidth(text)));
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
