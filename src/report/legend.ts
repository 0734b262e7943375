import { text } from './look.js';
import { markup, type Markup } from './markup.js';
import { textWidth } from './text-width.js';

/** A text, the sample before it, 26 px wide from the origin, 6 px above and below it, and whether it is there to be shown. */
export type LegendEntry = readonly [words: string, sample: readonly Markup[], shown?: boolean];

/** Entries side by side in rows of at most a width; the text of the first row stands on the origin. */
export function legend(
  entries: readonly LegendEntry[],
  width: number,
): { readonly rows: number; readonly marks: readonly Markup[] } {
  let x = 0;
  let rows = 1;
  const marks = entries.flatMap(([words, sample, shown = true]) => {
    if (!shown) return [];
    const taken = 31 + textWidth(words);
    if (x > 0 && x + taken > width) {
      x = 0;
      rows++;
    }
    const at = x;
    x += taken + 14;
    return markup`<g transform="translate(${at} ${20 * rows - 25})">${sample}${text(31, 5, words)}</g>`;
  });
  return { rows, marks };
}
