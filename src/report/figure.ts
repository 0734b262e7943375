import { axes, axisTitle, levelTicks, uprightTicks, widest } from './axes.js';
import { labelMarks } from './label-marks.js';
import { legend, type LegendEntry } from './legend.js';
import { ink, muted, paper, textSize } from './look.js';
import { markup, markupText, type Markup } from './markup.js';
import { counted } from './number-text.js';
import { placeLabels, type LabelRequest } from './place-labels.js';
import { hold, place, placeAll, type Point, type Scale } from './scale.js';
import { fitText, joinParts, textWidth } from './text-width.js';

/** One view of a picture, above or below others with the same level axis. */
export interface Panel {
  /** What its upright axis shows, and in which unit. */
  readonly quantity: readonly [name: string, unit: string];
  /** Words behind the title of that axis. */
  readonly note?: string;
  /** Value at the lower edge. */
  readonly low: number;
  /** Value at the upper edge. */
  readonly high: number;
  /** [px] Height. */
  readonly height: number;
  /** [px] Height to keep free above it for labels. */
  readonly strip: number;
  /** What is in it: cut at its edges, and not cut. */
  readonly draw: (x: Scale, y: Scale) => readonly [inside: readonly Markup[], over?: readonly Markup[]];
  /** What is to be labelled, in units of the axes, the most important first. */
  readonly labels?: readonly LabelRequest[];
  /** Whether labels run upwards. */
  readonly upright?: boolean;
  /** Lines that no label may cover, in units of the axes. */
  readonly lines?: readonly (readonly Point[])[];
}

/** What a picture consists of. */
export interface Figure {
  /** Heading, also the accessible name. */
  readonly title: string;
  /** Parts of the lines below it. */
  readonly subtitle: readonly string[];
  /** Description for those who cannot see the picture. */
  readonly description: string;
  /** [px] Width. */
  readonly width: number;
  /** [px] Height; when absent the panels decide. */
  readonly height: number | undefined;
  /** What the level axis shows, in which unit, and its ends. */
  readonly across: readonly [name: string, unit: string, from: number, to: number];
  /** The views, given the room there is for them, each with 44 px for its title; `undefined` is as much as they want. */
  readonly panels: (room: number | undefined) => readonly Panel[];
  /** What the lines and patterns mean. */
  readonly entries: readonly LegendEntry[];
  /** Patterns that the drawing refers to. */
  readonly patterns?: Markup;
}

const margin = 20;

/** A whole SVG document of one or two views below each other. */
export function figure(content: Figure): string {
  const { title, subtitle, description, width, height, across, panels, entries, patterns } = content;
  const [name, unit, from, to] = across;
  const right = width - 30;
  const inner = right - margin;
  const lines = joinParts(subtitle, inner).slice(0, 5);
  // Too low a picture goes without a legend.
  const key = legend((height ?? 300) >= 300 ? entries : [], inner - textWidth(`${name} [${unit}]`) - 30);
  const foot = 45 + 21 * key.rows;
  let bottom = 26 + 20 * lines.length;
  const views = panels(height === undefined ? undefined : height - bottom - foot).map((panel) => {
    const end = bottom + 44 + panel.strip;
    bottom = end + panel.height;
    const y: Scale = { from: panel.low, to: panel.high, start: bottom, end };
    return { panel, y, ticks: uprightTicks(y) };
  });
  const whole = height ?? bottom + foot;
  const texts = views.flatMap(({ ticks }) => ticks.texts);
  const x: Scale = { from, to, start: Math.max(48, 24 + Math.ceil(widest(texts))), end: right };
  const xTicks = levelTicks(x);
  const marks = views.map(({ panel, y, ticks }, i) => {
    const [inside, over] = panel.draw(x, y);
    const caption = fitText(`${axisTitle(...panel.quantity, ticks)}${panel.note ?? ''}`, inner);
    return markup`<g class="panel"><text x="${margin}" y="${y.end - panel.strip - 8}">${caption}</text>
${axes(x, y, xTicks, ticks, i === views.length - 1)}
<svg x="${x.start}" y="${y.end}" width="${right - x.start}" height="${panel.height}" viewBox="${x.start} ${y.end} ${right - x.start} ${panel.height}" overflow="hidden">${inside}</svg>
${over}${labelsOf(panel, x, y)}</g>
`;
  });
  return markupText(markup`<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${whole}" viewBox="0 0 ${width} ${whole}" role="img" font-family="Helvetica, Arial, sans-serif" font-size="${textSize}" fill="${muted}"><title>${title}</title><desc>${description}</desc>${patterns}
<rect width="${width}" height="${whole}" fill="${paper}"/>
<text x="${margin}" y="32" font-size="21" font-weight="bold" fill="${ink}">${fitText(title, inner, 21)}</text>
${lines.map((line, i) => markup`<text x="${margin}" y="${56 + 20 * i}">${fitText(line, inner)}</text>`)}
${marks}<text x="${right}" y="${bottom + 52}" text-anchor="end">${axisTitle(name, unit, xTicks)}</text>
<g class="legend" transform="translate(${margin} ${bottom + 52})">${key.marks}</g>
</svg>
`);
}

/** The labels of a view, and how many found no room. */
function labelsOf({ labels = [], lines = [], strip, upright = false }: Panel, x: Scale, y: Scale): Markup {
  const requests = labels.map((label) => {
    return { ...label, x: hold(place(x, label.x), x.start, x.end), y: hold(place(y, label.y), y.end, y.start) };
  });
  const placed = placeLabels(requests, {
    left: x.start,
    right: x.end + 18,
    top: y.end - strip,
    bottom: y.start - 4,
    lines: lines.map((points) => placeAll(points, x, y)),
    upright,
  });
  const missing = labels.length - placed.length;
  const note = markup`<text x="${x.end}" y="${y.end - strip - 8}" text-anchor="end">${counted(missing, 'label')} left out for want of room</text>`;
  return markup`${labelMarks(placed, upright)}${missing > 0 ? note : undefined}`;
}
