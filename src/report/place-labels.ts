import { textWidth } from './text-width.js';

/** A rectangle of the drawing, [px]. */
export interface Box {
  /** [px] Left edge. */
  readonly left: number;
  /** [px] Top edge. */
  readonly top: number;
  /** [px] Right edge. */
  readonly right: number;
  /** [px] Bottom edge. */
  readonly bottom: number;
}

/** Something to be labelled. */
export interface LabelRequest {
  /** [px] Where the leader points. */
  readonly x: number;
  /** [px] Where the leader points. */
  readonly y: number;
  /** Which side of the line the label looks for room on first. */
  readonly side: 'above' | 'below';
  /** Lines of text, the fullest version first; a shorter one is taken only when no room is left for it. */
  readonly versions: readonly (readonly string[])[];
}

/** A label with its place. */
export interface PlacedLabel {
  /** [-] Index of its request. */
  readonly index: number;
  /** Lines of text. */
  readonly lines: readonly string[];
  /** What the text covers. */
  readonly box: Box;
  /** How the lines lie in it. */
  readonly align: 'start' | 'middle' | 'end';
  /** [px] x1, y1, x2, y2 of the leader from the thing to the label, when it is not close by. */
  readonly leader?: Segment;
}

type Segment = readonly [x1: number, y1: number, x2: number, y2: number];

/** What labels must keep clear of. */
export interface LabelField {
  /** Where labels may stand. */
  readonly bounds: Box;
  /** [px] Uppermost extent of the line in each pixel column from `bounds.left`; `bounds.bottom` where there is none. */
  readonly upper: ArrayLike<number>;
  /** [px] Lowermost extent of the line in each pixel column; `bounds.top` where there is none. */
  readonly lower: ArrayLike<number>;
  /** Places already taken. */
  readonly taken: readonly Box[];
  /** Whether texts run upwards, for when there are too many to lie side by side. */
  readonly upright: boolean;
  /** [px] Font size. */
  readonly fontSize: number;
}

const lineSpacing = 1.16;
const clearance = 3;

/**
 * Places labels so that no two overlap, none covers the line, and no leader
 * runs through a label or across another leader. Greedy and deterministic:
 * one after the other, each takes the cheapest place still free, where a place
 * costs its distance; sideways costs more than upward. When not all find room
 * in the order given, the reverse order and that of position are tried too,
 * and the one that places most is taken. A label that finds no place in any
 * version is left out and missing from the result.
 */
export function placeLabels(requests: readonly LabelRequest[], field: LabelField): PlacedLabel[] {
  const given = requests.map((_, index) => index);
  const byPosition = given.toSorted((a, b) => requests[a]!.x - requests[b]!.x || a - b);
  let best: PlacedLabel[] = [];
  let bestScore = -1;
  for (const order of [given, given.toReversed(), byPosition, byPosition.toReversed()]) {
    const placed = placeInOrder(requests, order, field);
    const score = placed.reduce((sum, { index, lines }) => sum + (lines === requests[index]!.versions[0] ? 3 : 2), 0);
    if (score > bestScore) {
      best = placed;
      bestScore = score;
    }
    if (bestScore === 3 * requests.length) break;
  }
  return best;
}

function placeInOrder(requests: readonly LabelRequest[], order: readonly number[], field: LabelField): PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  const boxes: Box[] = [...field.taken];
  const leaders: Segment[] = [];
  for (const index of order) {
    const request = requests[index]!;
    const other = { ...request, side: request.side === 'above' ? 'below' : 'above' } as const;
    for (const [tried, lines] of [request, other].flatMap((each) => each.versions.map((v) => [each, v] as const))) {
      const label = findPlace(tried, lines, field, boxes, leaders);
      if (label === undefined) continue;
      placed.push({ index, ...label });
      boxes.push(label.box);
      if (label.leader !== undefined) leaders.push(label.leader);
      break;
    }
  }
  return placed;
}

/** [px] Height of so many lines of text. */
export function textHeight(lines: number, fontSize: number): number {
  return (lines - 1) * fontSize * lineSpacing + fontSize;
}

function findPlace(
  request: LabelRequest,
  lines: readonly string[],
  field: LabelField,
  boxes: readonly Box[],
  leaders: readonly Segment[],
): Omit<PlacedLabel, 'index'> | undefined {
  const { bounds, fontSize } = field;
  const length = Math.max(...lines.map((line) => textWidth(line, fontSize)));
  const width = field.upright ? textHeight(lines.length, fontSize) : length;
  const height = field.upright ? length : textHeight(lines.length, fontSize);
  const nearLine = field.upright ? width : textWidth(lines[request.side === 'above' ? lines.length - 1 : 0]!, fontSize);
  const reach = 14;
  const stepX = 8;
  const stepY = 5;
  const above = request.side === 'above';
  let best: Omit<PlacedLabel, 'index'> | undefined;
  let bestCost = Infinity;
  for (let k = 0; k <= 2 * reach; k++) {
    const shift = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * stepX;
    const left = Math.min(Math.max(request.x + shift - width / 2, bounds.left), bounds.right - width);
    if (left < bounds.left) return undefined;
    const right = left + width;
    const align = alignment(request.x, left, right, nearLine);
    const aside = Math.abs((left + right) / 2 - request.x);
    if (1.5 * aside >= bestCost) continue;
    let top = restingTop(request, left, right, height, field);
    while (top >= bounds.top && top + height <= bounds.bottom) {
      const bottom = top + height;
      const distance = above ? request.y - bottom : top - request.y;
      const cost = 1.5 * aside + Math.max(0, distance);
      if (cost >= bestCost) break;
      const box = { left, top, right, bottom };
      const inTheWay = boxes.find((other) => overlap(box, other, clearance));
      if (inTheWay !== undefined) {
        // Straight on to the first height that clears it.
        top = above ? inTheWay.top - clearance - height - 0.01 : inTheWay.bottom + clearance + 0.01;
        continue;
      }
      const leader = leaderTo(request, box, align, distance, nearLine);
      if (isFree(box, leader, request.side, field, boxes, leaders)) {
        best = leader === undefined ? { lines, box, align } : { lines, box, align, leader };
        bestCost = cost;
        break;
      }
      top += above ? -stepY : stepY;
    }
  }
  return best;
}

/** Whether a box with its leader keeps clear of the leaders, labels and lines there are. */
function isFree(
  box: Box,
  leader: Segment | undefined,
  side: 'above' | 'below',
  field: LabelField,
  boxes: readonly Box[],
  leaders: readonly Segment[],
): boolean {
  if (leaders.some((other) => touches(other, box, 2))) return false;
  if (leader === undefined) return true;
  // A leader flatter than one in two reads as a stroke under a word.
  if (Math.abs(leader[2] - leader[0]) > 2 * Math.abs(leader[3] - leader[1])) return false;
  return (
    !boxes.some((other) => touches(leader, other, 2)) &&
    !leaders.some((other) => cross(leader, other)) &&
    !hidden(leader, side, field)
  );
}

/** [px] Top of the box when it rests as near to the line as it may. */
function restingTop(request: LabelRequest, left: number, right: number, height: number, field: LabelField): number {
  const first = Math.max(0, Math.floor(left - field.bounds.left) - 2);
  const last = Math.min(field.upper.length - 1, Math.ceil(right - field.bounds.left) + 2);
  if (request.side === 'above') {
    let edge = request.y;
    for (let column = first; column <= last; column++) edge = Math.min(edge, field.upper[column]!);
    return Math.min(edge - 6, field.bounds.bottom) - height;
  }
  let edge = request.y;
  for (let column = first; column <= last; column++) edge = Math.max(edge, field.lower[column]!);
  return Math.max(edge + 6, field.bounds.top);
}

/** How the lines of a label lie in its box: towards the side its leader comes from. */
function alignment(x: number, left: number, right: number, nearLine: number): PlacedLabel['align'] {
  const aside = x - (left + right) / 2;
  if (right - left < nearLine + 12 || Math.abs(aside) < 0.4 * nearLine) return 'middle';
  return aside < 0 ? 'start' : 'end';
}

/** A leader when the label does not sit right at what it names; it ends under the nearest line of the label. */
function leaderTo(
  request: LabelRequest,
  box: Box,
  align: PlacedLabel['align'],
  distance: number,
  nearLine: number,
): Segment | undefined {
  const centre =
    align === 'start'
      ? box.left + nearLine / 2
      : align === 'end'
        ? box.right - nearLine / 2
        : (box.left + box.right) / 2;
  const half = 0.4 * nearLine;
  if (distance <= 12 && Math.abs(request.x - centre) <= half + 8) return undefined;
  const x = Math.min(Math.max(request.x, centre - half), centre + half);
  return request.side === 'above'
    ? [request.x, request.y - 3, x, box.bottom + 2]
    : [request.x, request.y + 3, x, box.top - 2];
}

/** Whether a leader runs through the line or under it for more than its first few pixels. */
function hidden(leader: Segment, side: 'above' | 'below', field: LabelField): boolean {
  const [x1, y1, x2, y2] = leader;
  const steps = Math.ceil(Math.abs(x2 - x1));
  for (let step = 3; step <= steps; step++) {
    const share = step / steps;
    const column = Math.round(x1 + share * (x2 - x1) - field.bounds.left);
    const y = y1 + share * (y2 - y1);
    if (side === 'above' ? y > (field.upper[column] ?? Infinity) : y < (field.lower[column] ?? -Infinity)) return true;
  }
  return false;
}

/** Whether two boxes come closer than a clearance. */
export function overlap(a: Box, b: Box, margin = 0): boolean {
  return (
    a.left < b.right + margin && b.left < a.right + margin && a.top < b.bottom + margin && b.top < a.bottom + margin
  );
}

/** Whether a segment enters a box widened by a margin: the part of it between the sides, then between top and bottom. */
function touches(segment: Segment, box: Box, margin: number): boolean {
  const x1 = segment[0];
  const y1 = segment[1];
  const x2 = segment[2];
  const y2 = segment[3];
  const left = box.left - margin;
  const right = box.right + margin;
  const top = box.top - margin;
  const bottom = box.bottom + margin;
  if (Math.max(x1, x2) < left || Math.min(x1, x2) > right) return false;
  if (Math.max(y1, y2) < top || Math.min(y1, y2) > bottom) return false;
  if (x1 === x2 || y1 === y2) return true;
  const atLeft = (left - x1) / (x2 - x1);
  const atRight = (right - x1) / (x2 - x1);
  const atTop = (top - y1) / (y2 - y1);
  const atBottom = (bottom - y1) / (y2 - y1);
  const enter = Math.max(0, Math.min(atLeft, atRight), Math.min(atTop, atBottom));
  return enter <= Math.min(1, Math.max(atLeft, atRight), Math.max(atTop, atBottom));
}

/** Whether two segments cross. */
function cross(a: Segment, b: Segment): boolean {
  return sideOf(a, b[0], b[1]) * sideOf(a, b[2], b[3]) <= 0 && sideOf(b, a[0], a[1]) * sideOf(b, a[2], a[3]) <= 0;
}

/** Sign tells on which side of a segment a point lies. */
function sideOf(s: Segment, x: number, y: number): number {
  return (s[2] - s[0]) * (y - s[1]) - (s[3] - s[1]) * (x - s[0]);
}
