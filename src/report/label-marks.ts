import { apart, ink, muted, paper } from './look.js';
import { markup, type Markup } from './markup.js';
import { lineSpacing, type PlacedLabel } from './place-labels.js';
import { pathOf } from './scale.js';

const anchors = ['start', 'middle', 'end'];

/** Labels and leaders as markup. */
export function labelMarks(labels: readonly PlacedLabel[], upright: boolean): Markup {
  const leaders = labels.filter(({ leader }) => leader.length > 0).map(({ leader }) => pathOf(leader));
  const texts = labels.map(({ request, lines, left, top, right, bottom, share }) => {
    const x = upright ? right - 3 : left + share * (right - left);
    const turn = upright ? markup` transform="rotate(-90 ${x} ${bottom})"` : undefined;
    const anchor = upright ? 'start' : anchors[2 * share];
    const rows = lines.map(
      (text, i) => markup`<text x="${x}" y="${upright ? bottom : top + 12 + lineSpacing * i}">${text}</text>`,
    );
    const look = request.apart ? markup`fill="${apart}" font-style="italic"` : markup`fill="${ink}"`;
    return markup`<g class="label" text-anchor="${anchor}" ${look}${turn}>${rows}</g>`;
  });
  return markup`<path d="${leaders.join('')}" stroke="${muted}" stroke-width=".9"/>
<g stroke="${paper}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">${texts}</g>`;
}
