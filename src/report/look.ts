import { markup, type Markup } from './markup.js';

/**
 * Colours and sizes of every picture. Dark ink for what was recorded, sage for
 * what was integrated, clay for what was assumed under it, plum for what was
 * set apart. The four differ in lightness (about 15, 75 and 88, 42, 58 of 100)
 * as well as in hue, and each also has its own line or pattern, so that a grey
 * print and any kind of colour vision keep them apart.
 */
export const paper = '#fff';
export const ink = '#1d282d';
export const muted = '#56636a';
const sage = '#d6e7e2';
const darkSage = '#5d9186';
const clay = '#b0501a';
export const apart = '#7d7288';
/** [px] Font size of everything but the title. */
export const textSize = 15;

/** What can be drawn. */
export type Look =
  | 'grid'
  | 'signal'
  | 'baseline'
  | 'area'
  | 'area hatched'
  | 'limit'
  | 'limit cut-off'
  | 'set-apart'
  | 'rejected'
  | 'leader'
  | 'point'
  | 'point left-out'
  | 'line'
  | 'extended'
  | 'band'
  | 'reading'
  | 'result'
  | 'interval';

/** Fill, colour of the edge, its width and dashes [px] of everything that is drawn. */
const looks: Readonly<Record<Look, readonly [fill: string, edge?: string, width?: number, dashes?: string]>> = {
  grid: ['none', '#dfe4e3'],
  signal: ['none', ink, 1.3],
  baseline: ['none', clay, 1.4, '7 3'],
  area: [sage],
  'area hatched': ['url(#peakwright-hatch)'],
  limit: ['none', ink, 1.3],
  'limit cut-off': ['none', ink, 1.3, '2 2.5'],
  'set-apart': ['#f1eff3', apart, 1, '1.5 3'],
  rejected: [paper, ink, 1.3],
  leader: ['none', muted],
  point: [ink, paper],
  'point left-out': [paper, ink, 1.3],
  line: ['none', ink, 1.5],
  extended: ['none', ink, 1, '6 4'],
  band: [sage, darkSage, 1, '2 3'],
  reading: ['none', clay, 1.4, '3 3'],
  result: [paper, clay, 1.8],
  interval: ['none', clay, 3],
};

/** A shape that looks as its name says; a reader sees the title on pointing at it. */
export function mark(look: Look, d: Markup, title?: string): Markup {
  const [fill, edge = 'none', width = 1, dashes = 'none'] = looks[look];
  return markup`<path class="${look}" d="${d}" fill="${fill}" stroke="${edge}" stroke-width="${width}" stroke-dasharray="${dashes}">${tip(title)}</path>`;
}

/** A text at a place. */
export function text(x: number, y: number, content = ''): Markup {
  return markup`<text x="${x}" y="${y}">${content}</text>`;
}

/** What a reader sees on pointing at the element it stands in. */
export function tip(title?: string): Markup | undefined {
  return title ? markup`<title>${title}</title>` : undefined;
}

/** Hatching on a darker ground. It is the same in every picture, so that any number of them can stand in one page. */
export const hatch: Markup = markup`<defs><pattern id="peakwright-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0h6v6H0z" fill="#a3c8bf"/><path d="M3 0v6" stroke="${darkSage}" stroke-width="1.2"/></pattern></defs>`;

/** Path data of a circle. */
export function circle(x: number, y: number, radius: number): Markup {
  return markup`M${x - radius} ${y}a${radius} ${radius} 0 1 1 0 .01z`;
}

/** Path data of an upright rectangle. */
export function rectangle(x: number, y: number, width: number, height: number): Markup {
  return markup`M${x} ${y}h${width}v${height}h${-width}z`;
}
