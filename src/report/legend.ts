import { markup, type Markup } from './markup.js';
import { textWidth } from './text-width.js';

/** A text and the sample before it: 26 px wide from the origin, 6 px above and below it. */
export type LegendEntry = readonly [text: string, sample: Markup];

/** What the lines and patterns mean, in rows of at most a width; the first row's text stands on the origin. */
export function legend(entries: readonly LegendEntry[], width: number): { rows: number; marks: Markup[] } {
  let x = 0;
  let rows = 1;
  const marks = entries.map(([text, sample]) => {
    const taken = 31 + textWidth(text);
    if (x > 0 && x + taken > width) {
      x = 0;
      rows++;
    }
    const at = x;
    x += taken + 14;
    return markup`<g transform="translate(${at} ${21 * (rows - 1) - 5})">${sample}<text x="31" y="5">${text}</text></g>`;
  });
  return { rows, marks };
}
