import { look } from './look.js';
import { markup, type Markup } from './markup.js';
import { textWidth } from './text-width.js';

/** A text and the sample before it, drawn from an x at a middle height. */
export type LegendEntry = readonly [text: string, sample: (x: number, middle: number) => Markup];

/** What a legend has to explain. */
export interface LegendContent {
  /** Integrated areas and their baselines. */
  readonly areas: boolean;
  /** Stretches set apart. */
  readonly bands: boolean;
  /** Rejected candidates. */
  readonly rejected: boolean;
  /** Start of the names of the patterns. */
  readonly prefix: string;
}

/** A line that says what the lines and patterns mean; only what the picture shows; in rows when one is too short. */
export function legend(
  left: number,
  right: number,
  top: number,
  shown: LegendContent,
): { readonly rows: number; readonly marks: Markup } {
  const entries: LegendEntry[] = [
    ['signal', (x, middle) => markup`<path d="M${x} ${middle}h26" stroke="${look.ink}" stroke-width="1.5"/>`],
  ];
  if (shown.areas) {
    entries.push(
      [
        'baseline used',
        (x, middle) =>
          markup`<path d="M${x} ${middle}h26" stroke="${look.baseline}" stroke-width="1.4" stroke-dasharray="7 3"/>`,
      ],
      [
        'area integrated',
        (x, middle) =>
          markup`<rect x="${x}" y="${middle - 7}" width="13" height="13" fill="${look.areaLight}"/><rect x="${x + 13}" y="${middle - 7}" width="13" height="13" fill="${look.areaDark}"/><rect x="${x + 13}" y="${middle - 7}" width="13" height="13" fill="url(#${shown.prefix}hatch)"/>`,
      ],
    );
  }
  if (shown.bands) {
    entries.push([
      'set apart',
      (x, middle) => markup`<rect x="${x}" y="${middle - 7}" width="26" height="13" fill="url(#${shown.prefix}dots)"/>`,
    ]);
  }
  if (shown.rejected) {
    entries.push([
      'not taken as a peak',
      (x, middle) =>
        markup`<circle cx="${x + 20}" cy="${middle}" r="5" fill="${look.paper}" stroke="${look.ink}" stroke-width="1.3"/>`,
    ]);
  }
  return { rows: entryRows(entries, left, right), marks: drawEntries(entries, left, right, top) };
}

/** [-] Rows that entries take between two edges. */
export function entryRows(entries: readonly LegendEntry[], left: number, right: number): number {
  return 1 + (entryStarts(entries, left, right).at(-1)?.[1] ?? 0);
}

/** Entries between two edges, the first row's text standing on `top`. */
export function drawEntries(entries: readonly LegendEntry[], left: number, right: number, top: number): Markup {
  const starts = entryStarts(entries, left, right);
  const parts = entries.map(([text, sample], i) => {
    const [start, row] = starts[i]!;
    const y = top + 21 * row;
    return markup`${sample(start, y - 5)}<text x="${start + 31}" y="${y}">${text}</text>`;
  });
  return markup`<g class="legend" font-size="${look.textSize}" fill="${look.muted}">${parts}</g>`;
}

/** Where each entry begins and in which row. */
function entryStarts(entries: readonly LegendEntry[], left: number, right: number): (readonly [number, number])[] {
  const starts: (readonly [number, number])[] = [];
  let x = left;
  let row = 0;
  for (const [text] of entries) {
    const width = 31 + textWidth(text, look.textSize);
    if (x > left && x + width > right) {
      x = left;
      row++;
    }
    starts.push([x, row]);
    x += width + 14;
  }
  return starts;
}
