import { coordinate, markup, type Markup } from './markup.js';

/** A shape: path data, fill, colour, width and dashes [px] of its edge, what it is, what a reader sees on pointing at it. */
export function shape(
  d: string,
  fill: string,
  edge = 'none',
  width = 1,
  dashes = 'none',
  name = 'mark',
  title = '',
): Markup {
  return markup`<path class="${name}" d="${d}" fill="${fill}" stroke="${edge}" stroke-width="${width}" stroke-dasharray="${dashes}">${tip(title)}</path>`;
}

/** A line, not filled. */
export function stroke(d: string, colour: string, width = 1, dashes = 'none', name = 'mark', title = ''): Markup {
  return shape(d, 'none', colour, width, dashes, name, title);
}

/** What a reader sees on pointing at the element it stands in. */
export function tip(title: string): Markup | undefined {
  return title === '' ? undefined : markup`<title>${title}</title>`;
}

/** Path data of a circle. */
export function circle(x: number, y: number, radius: number): string {
  return `M${coordinate(x - radius)} ${coordinate(y)}a${radius} ${radius} 0 1 1 0 .01z`;
}

/** Path data of an upright rectangle. */
export function rectangle(x: number, y: number, width: number, height: number): string {
  const [left, top, wide, high] = [x, y, width, height].map(coordinate);
  return `M${left} ${top}h${wide}v${high}H${left}z`;
}
