import { apart, ink, mark, paper, text } from './look.js';
import { markup, type Markup } from './markup.js';
import { lineSpacing, type PlacedLabel } from './place-labels.js';
import { pathOf } from './scale.js';

/** Labels and leaders as markup. */
export function labelMarks(labels: readonly PlacedLabel[], upright = false): Markup {
  const leaders = labels.flatMap(({ leader }) => (leader.length > 0 ? mark('leader', pathOf(leader)) : []));
  const texts = labels.map(({ request, lines, left, top, right, bottom, share }) => {
    const x = upright ? right - 3 : left + share * (right - left);
    const turn = upright ? markup` transform="rotate(-90 ${x} ${bottom})"` : undefined;
    const anchor = upright ? 'start' : ['start', 'middle', 'end'][2 * share];
    const rows = lines.map((words, i) => text(x, upright ? bottom : top + 12 + lineSpacing * i, words));
    return markup`<g class="label" text-anchor="${anchor}" fill="${request.apart ? apart : ink}"${turn}>${rows}</g>`;
  });
  return markup`${leaders}
<g stroke="${paper}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">${texts}</g>`;
}
