import { markup, type Markup } from './markup.js';

/** A line, not filled: path data, colour, width and dashes [px], what it is, and what a reader sees on pointing at it. */
export function stroke(d: string, colour: string, width = 1, dashes = 'none', name = 'mark', title = ''): Markup {
  return markup`<path class="${name}" d="${d}" fill="none" stroke="${colour}" stroke-width="${width}" stroke-dasharray="${dashes}">${tip(title)}</path>`;
}

/** What a reader sees on pointing at the element it stands in. */
export function tip(title: string): Markup | undefined {
  return title === '' ? undefined : markup`<title>${title}</title>`;
}
