/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { pictures } from './compute.js';

export * from './compute.js';

/** What a browser makes of a picture. */
export interface Look {
  /** What the XML reader complains of; empty when nothing. */
  readonly fault: string;
  /** [px] Width as an image of its own. */
  readonly width: number;
  readonly texts: number;
  /** Pairs of texts of which one lies on the other. */
  readonly overlaps: readonly string[];
}

/** Shows each picture as an image and as a part of the page. Runs in the browser. */
export async function look(extra = ''): Promise<Record<string, Look>> {
  const seen: Record<string, Look> = {};
  for (const [name, picture] of Object.entries(pictures())) {
    const svg = picture.replace('</svg>', `${extra}</svg>`);
    const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml');
    const image = new Image();
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
    await image.decode();
    document.body.replaceChildren(document.importNode(parsed.documentElement, true));
    const texts = [...document.querySelectorAll('text')];
    seen[name] = {
      fault: parsed.querySelector('parsererror')?.textContent ?? '',
      width: image.naturalWidth,
      texts: texts.length,
      overlaps: texts.flatMap((a, i) =>
        texts
          .slice(i + 1)
          .filter((b) => overlap(a.getBoundingClientRect(), b.getBoundingClientRect()))
          .map((b) => `${a.textContent} | ${b.textContent}`),
      ),
    };
  }
  return seen;
}

/** Boxes hold the height of the tallest letter there is: 4 px of them are air. */
function overlap(a: DOMRect, b: DOMRect): boolean {
  const width = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const height = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  return width > 1 && height > 4;
}
