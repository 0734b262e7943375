import { textSize } from './look.js';
import { createRaster, type Box, type Raster } from './raster.js';
import { hold, type Point } from './scale.js';
import { textWidth } from './text-width.js';

/** Something to be labelled. */
export interface LabelRequest {
  /** [px] Where the label belongs. */
  readonly x: number;
  /** [px] Where the label belongs. */
  readonly y: number;
  /** Whether the label stands below that place instead of above. */
  readonly down?: boolean;
  /** Lines of text, the fullest version first; a shorter one is taken only when no room is left for it. */
  readonly versions: readonly (readonly string[])[];
  /** Whether it names something set apart. */
  readonly apart?: boolean;
}

/** A label with its place, [px]. */
export interface PlacedLabel extends Box {
  /** What asked for it. */
  readonly request: LabelRequest;
  /** Lines of text. */
  readonly lines: readonly string[];
  /** [-] Which part of each line stands at the same share of the width: 0 its beginning, 0.5 its middle, 1 its end. */
  readonly share: number;
  /** Ends of the stroke from the thing to the label, when it is not close by. */
  readonly leader: readonly Point[];
}

/** Where labels may stand, [px], and what they must keep clear of. */
export interface LabelField extends Box {
  /** Lines that no label may cover. */
  readonly lines: readonly (readonly Point[])[];
  /** Whether texts run upwards, for when there are too many to lie side by side. */
  readonly upright: boolean;
}

/** [px] Distance from line to line of a label. */
export const lineSpacing = 17.4;

/**
 * Places labels so that no two overlap, none covers a line, and no leader runs
 * through a label, a line or another leader. All of these fill squares of one
 * raster, and a label takes only squares that are free. Greedy and
 * deterministic: one after the other, each takes the cheapest place, where a
 * place costs its distance, sideways more than upward, and something for each
 * thing not yet labelled whose way out it closes. A label that finds no place in
 * any version is left out.
 */
export function placeLabels(requests: readonly LabelRequest[], field: LabelField): PlacedLabel[] {
  const raster = createRaster(field);
  for (const points of field.lines) raster.line(points, true);
  return requests.flatMap((request, i) => {
    for (const lines of request.versions) {
      const label = findPlace(request, lines, requests.slice(i + 1), field, raster);
      if (label === undefined) continue;
      raster.box(label, true);
      raster.line(label.leader, true);
      return label;
    }
    return [];
  });
}

/** The cheapest free place of a label; the nearest on each of a few columns is looked at. */
function findPlace(
  request: LabelRequest,
  lines: readonly string[],
  waiting: readonly LabelRequest[],
  field: LabelField,
  raster: Raster,
): PlacedLabel | undefined {
  const { x, y, down = false } = request;
  const away = down ? 1 : -1;
  const [width, height, nearest] = measure(lines, down, field.upright);
  const [besides, between] = field.upright ? [1, 4] : [4, 1];
  let best: PlacedLabel | undefined;
  let bestCost = Infinity;
  for (let k = 0; k <= 28 && width <= field.right - field.left; k++) {
    const shift = (k % 2 === 1 ? 8 : -8) * Math.ceil(k / 2);
    const left = hold(x + shift - width / 2, field.left, field.right - width);
    const aside = left + width / 2 - x;
    const share = Math.abs(aside) < 0.2 * width ? 0.5 : Number(aside < 0);
    const start = left + share * (width - nearest);
    const tip = hold(x, start + 0.1 * nearest, start + 0.9 * nearest);
    for (let distance = 6; ; distance += 3) {
      const edge = y + distance * away;
      const top = down ? edge : edge - height;
      const box = { left, top, right: left + width, bottom: top + height };
      const closed = waiting.filter((other) => {
        return Math.abs(other.x - x - aside) < width / 2 + 3 && (other.y - edge) * away < 0;
      });
      const cost = 1.5 * Math.abs(aside) + distance + 25 * closed.length;
      if (top < field.top || box.bottom > field.bottom || cost >= bestCost) break;
      const wide = {
        left: left - besides,
        top: top - between,
        right: box.right + besides,
        bottom: box.bottom + between,
      };
      if (raster.box(wide)) continue;
      const leader: Point[] = [[x, y + 6 * away], [tip, edge - 2 * away]]; // prettier-ignore
      const close = distance <= 12 && Math.abs(x - tip) <= 8;
      // A leader flatter than one in two reads as a stroke under a word.
      if (!close && (Math.abs(tip - x) > 2 * distance || raster.line(leader))) continue;
      best = { request, lines, ...box, share, leader: close ? [] : leader };
      bestCost = cost;
      break;
    }
  }
  return best;
}

/** [px] Width and height of a label, and how much of its width the line next to what it names takes. */
function measure(lines: readonly string[], down: boolean, upright: boolean): [number, number, number] {
  const lengths = lines.map((text) => textWidth(text));
  const length = Math.max(...lengths);
  const depth = (lines.length - 1) * lineSpacing + textSize;
  return upright ? [depth, length, depth] : [length, depth, lengths.at(down ? 0 : -1)!];
}
