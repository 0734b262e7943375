import { axes, axisTitle, levelTicks, uprightTicks } from './axes.js';
import { labelMarks } from './label-marks.js';
import { legend, type LegendEntry } from './legend.js';
import { hatch, ink, muted, paper, text, textSize } from './look.js';
import { markup, markupText, type Markup } from './markup.js';
import { counted } from './number-text.js';
import { placeLabels, type LabelRequest, type PlacedLabel } from './place-labels.js';
import { hold, place, placeAll, type Point, type Scale } from './scale.js';
import { fitText, joinParts, textWidth, widest } from './text-width.js';

/** One view of a picture, above or below others with the same level axis. */
export interface Panel {
  /** What its upright axis shows, and in which unit. */
  readonly quantity: readonly [name: string, unit: string];
  /** Words behind the title of that axis. */
  readonly note?: readonly string[];
  /** Lowest value to show. */
  readonly low: number;
  /** Highest value to show. */
  readonly high: number;
  /** [px] Height from `low` to `high`; when the height of the picture is given, its share of that. */
  readonly height: number;
  /** [px] Height to keep free above it for labels. */
  readonly strip: number;
  /** [px] Height to keep free below `low`. */
  readonly margin?: number;
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
  /** What else to say, in parts, to those who cannot see the picture. */
  readonly details: readonly string[];
  /** [px] Width. */
  readonly width: number;
  /** [px] Height; when absent the panels decide. */
  readonly height: number | undefined;
  /** What the level axis shows, in which unit, and its ends. */
  readonly across: readonly [name: string, unit: string, from: number, to: number];
  /** The views. */
  readonly panels: readonly Panel[];
  /** What the lines and patterns mean. */
  readonly entries: readonly LegendEntry[];
}

const left = 20;
/** [px] Height of the title of a view. */
const caption = 44;

/** A whole SVG document of one or two views below each other. */
export function figure({ title, subtitle, details, width, height, across, panels, entries }: Figure): string {
  const [name, unit, from, to] = across;
  const right = width - 30;
  const inner = right - left;
  const facts = joinParts(subtitle, inner).slice(0, 5);
  // Too low a picture goes without a legend.
  const key = legend((height ?? 300) >= 300 ? entries : [], inner - textWidth(`${name} [${unit}]`) - 30);
  const foot = 45 + 20 * key.rows;
  let bottom = 26 + 20 * facts.length;

  const sum = (of: (panel: Panel) => number): number => panels.reduce((total, panel) => total + of(panel), 0);
  const heights = sum((panel) => panel.height);
  const free = sum(({ strip, margin = 0 }) => strip + margin);
  const room = height === undefined ? heights + free : height - bottom - foot - caption * panels.length;
  /** [-] How much of the height that is to be kept free there is room for, and of that of the views. */
  const kept = Math.min(1, (0.55 * room) / free);
  const share = (room - kept * free) / heights;

  const views = panels.map((panel) => {
    const strip = Math.round(kept * panel.strip);
    const length = Math.max(Math.round(share * panel.height), 20);
    const end = bottom + caption + strip;
    const margin = Math.round(kept * (panel.margin ?? 0));
    bottom = end + length + margin;
    const low = panel.low - ((panel.high - panel.low) * margin) / length;
    const y: Scale = { from: low, to: panel.high, start: bottom, end };
    return { panel, strip, y, ticks: uprightTicks(y) };
  });
  const whole = height ?? bottom + foot;
  const texts = views.flatMap(({ ticks }) => ticks.texts);
  const x: Scale = { from, to, start: Math.max(48, 24 + Math.ceil(widest(texts))), end: right };
  const xTicks = levelTicks(x);
  const marks = views.map(({ panel, strip, y, ticks }, i) => {
    const [inside, over = []] = panel.draw(x, y);
    const labels = labelsOf(panel, strip, x, y);
    const missing = (panel.labels ?? []).length - labels.length;
    const words = [
      axisTitle(...panel.quantity, ticks.exponent),
      ...(panel.note ?? []),
      ...(missing > 0 ? [`${counted(missing, 'label')} left out for want of room`] : []),
    ].join(' · ');
    const frame = [x.start, y.end, right - x.start, y.start - y.end] as const;
    return markup`<g class="panel">${text(left, y.end - strip - 8, fitText(words, inner))}
${axes(x, y, xTicks, ticks, i === views.length - 1)}
<svg x="${frame[0]}" y="${frame[1]}" width="${frame[2]}" height="${frame[3]}" viewBox="${frame.join(' ')}" overflow="hidden">${inside}</svg>
${over}${labelMarks(labels, panel.upright)}</g>
`;
  });
  return markupText(markup`<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${whole}" viewBox="0 0 ${width} ${whole}" role="img" font-family="Helvetica, Arial, sans-serif" font-size="${textSize}" fill="${muted}"><title>${title}</title><desc>${[...subtitle, ...details].join('; ')}</desc>${hatch}
<rect width="${width}" height="${whole}" fill="${paper}"/>
<g font-size="21" font-weight="bold" fill="${ink}">${text(left, 32, fitText(title, inner, 21))}</g>
<g transform="translate(${left} 56)">${facts.map((line, i) => text(0, 20 * i, fitText(line, inner)))}</g>
${marks}<g text-anchor="end">${text(right, bottom + 52, axisTitle(name, unit, xTicks.exponent))}</g>
<g class="legend" transform="translate(${left} ${bottom + 52})">${key.marks}</g>
</svg>
`);
}

/** The labels of a view that found room. */
function labelsOf({ labels = [], lines = [], upright }: Panel, strip: number, x: Scale, y: Scale): PlacedLabel[] {
  const requests = labels.map((label) => {
    return { ...label, x: hold(place(x, label.x), x.start, x.end), y: hold(place(y, label.y), y.end, y.start) };
  });
  return placeLabels(requests, {
    left: x.start,
    right: x.end + 18,
    top: y.end - strip,
    bottom: y.start - 4,
    lines: lines.map((points) => placeAll(points, x, y)),
    upright,
  });
}
