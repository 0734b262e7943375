import { look } from './look.js';
import { markup, type Markup } from './markup.js';
import { textWidth } from './text-width.js';

/** A line that says what the lines and patterns mean; only what the picture shows. */
export function legend(
  left: number,
  y: number,
  shown: { readonly areas: number; readonly bands: boolean; readonly rejected: boolean; readonly prefix: string },
): Markup {
  const middle = y - 5;
  const entries: (readonly [string, (x: number) => Markup])[] = [
    ['signal', (x) => markup`<path d="M${x} ${middle}h26" stroke="${look.ink}" stroke-width="1.5"/>`],
  ];
  if (shown.areas > 0) {
    entries.push(
      [
        'baseline used',
        (x) =>
          markup`<path d="M${x} ${middle}h26" stroke="${look.baseline}" stroke-width="1.4" stroke-dasharray="7 3"/>`,
      ],
      [
        'area integrated',
        (x) =>
          markup`<rect x="${x}" y="${middle - 7}" width="13" height="13" fill="${look.areaLight}"/><rect x="${x + 13}" y="${middle - 7}" width="13" height="13" fill="${look.areaDark}"/><rect x="${x + 13}" y="${middle - 7}" width="13" height="13" fill="url(#${shown.prefix}hatch)"/>`,
      ],
    );
  }
  if (shown.bands) {
    entries.push([
      'set apart',
      (x) => markup`<rect x="${x}" y="${middle - 7}" width="26" height="13" fill="url(#${shown.prefix}dots)"/>`,
    ]);
  }
  if (shown.rejected) {
    entries.push([
      'not taken as a peak',
      (x) =>
        markup`<circle cx="${x + 20}" cy="${middle}" r="5" fill="${look.paper}" stroke="${look.ink}" stroke-width="1.3"/>`,
    ]);
  }
  let x = left;
  const parts = entries.map(([text, sample]) => {
    const part = markup`${sample(x)}<text x="${x + 33}" y="${y}">${text}</text>`;
    x += 33 + textWidth(text, look.textSize) + 18;
    return part;
  });
  return markup`<g class="legend" font-size="${look.textSize}" fill="${look.muted}">${parts}</g>`;
}
