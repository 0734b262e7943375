import { look } from './look.js';
import { markup, markupText, type Markup } from './markup.js';
import { fitText } from './text-width.js';

/** What a picture consists of. */
export interface SvgDocument {
  /** [px] Width. */
  readonly width: number;
  /** [px] Height. */
  readonly height: number;
  /** [px] Left edge of the heading. */
  readonly left: number;
  /** Heading, also the accessible name. */
  readonly title: string;
  /** Lines below it. */
  readonly subtitle: readonly string[];
  /** Description for those who cannot see the picture. */
  readonly description: string;
  /** The rest, given the start of the names it may define. */
  readonly body: (prefix: string) => Markup;
}

/**
 * A whole SVG document. Names of patterns begin with a sum over the content,
 * so that several pictures can stand in one page without taking each other's.
 */
export function svgDocument({ width, height, left, title, subtitle, description, body }: SvgDocument): Markup {
  const prefix = `pw${checksum(`${title}\n${subtitle.join('\n')}\n${width} ${height}\n${markupText(body(''))}`)}-`;
  const room = width - left - 16;
  return markup`<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img" font-family="${look.fontFamily}"><title>${title}</title><desc>${description}</desc>
<rect width="${width}" height="${height}" fill="${look.paper}"/>
<text x="${left}" y="32" font-size="${look.titleSize}" font-weight="bold" fill="${look.ink}">${fitText(title, look.titleSize, room)}</text>
${subtitle.map((line, i) => markup`<text x="${left}" y="${56 + 20 * i}" font-size="${look.textSize}" fill="${look.muted}">${fitText(line, look.textSize, room)}</text>`)}
${body(prefix)}
</svg>
`;
}

/** [px] Height of the heading with so many lines below the title. */
export function headingHeight(lines: number): number {
  return 46 + 20 * lines;
}

/** Eight hexadecimal digits over a text (FNV-1a, 32 bits): a name, not a proof. */
function checksum(text: string): string {
  let sum = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193);
  return (sum >>> 0).toString(16).padStart(8, '0');
}
