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
  /** Which side of the line the label looks for room on. */
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
  /** [px] Font size. */
  readonly fontSize: number;
}

const lineSpacing = 1.16;
const clearance = 3;

/**
 * Places labels so that no two overlap, none covers the line, and no leader
 * runs through a label or across another leader. Greedy and deterministic: in
 * the order given, each takes the cheapest place still free, where a place
 * costs its distance; sideways costs more than upward. A label that finds no
 * place in any version is left out and missing from the result.
 */
export function placeLabels(requests: readonly LabelRequest[], field: LabelField): PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  const boxes: Box[] = [...field.taken];
  const leaders: Segment[] = [];
  for (let index = 0; index < requests.length; index++) {
    const request = requests[index]!;
    for (const lines of request.versions) {
      const label = findPlace(request, lines, field, boxes, leaders);
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
  const width = Math.max(...lines.map((line) => textWidth(line, fontSize)));
  const height = textHeight(lines.length, fontSize);
  const reach = 24;
  const stepX = 8;
  const stepY = 5;
  let best: Omit<PlacedLabel, 'index'> | undefined;
  let bestCost = Infinity;
  for (let k = 0; k <= 2 * reach; k++) {
    const shift = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * stepX;
    const left = Math.min(Math.max(request.x + shift - width / 2, bounds.left), bounds.right - width);
    if (left < bounds.left) return undefined;
    const right = left + width;
    const aside = Math.abs((left + right) / 2 - request.x);
    if (1.5 * aside >= bestCost) continue;
    const rest = restingTop(request, left, right, height, field);
    for (let step = 0; ; step++) {
      const top = request.side === 'above' ? rest - step * stepY : rest + step * stepY;
      const bottom = top + height;
      if (top < bounds.top || bottom > bounds.bottom) break;
      const distance = request.side === 'above' ? request.y - bottom : top - request.y;
      let cost = 1.5 * aside + Math.max(0, distance);
      if (cost >= bestCost) break;
      const box = { left, top, right, bottom };
      if (boxes.some((other) => overlap(box, other, clearance))) continue;
      if (leaders.some((leader) => touches(leader, box, 2))) continue;
      const leader = leaderTo(request, box, distance);
      if (leader !== undefined) {
        if (boxes.some((other) => touches(leader, other, 2))) continue;
        if (leaders.some((other) => cross(leader, other))) continue;
        if (hidden(leader, request.side, field)) cost += 60;
        if (cost >= bestCost) continue;
      }
      best = leader === undefined ? { lines, box } : { lines, box, leader };
      bestCost = cost;
      break;
    }
  }
  return best;
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

/** A leader when the label does not sit right at what it names. */
function leaderTo(request: LabelRequest, box: Box, distance: number): Segment | undefined {
  const inside = request.x >= box.left && request.x <= box.right;
  if (distance <= 12 && inside) return undefined;
  const inset = Math.min(8, (box.right - box.left) / 2);
  const x = Math.min(Math.max(request.x, box.left + inset), box.right - inset);
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

/** Whether a segment enters a box widened by a margin: the slab test. */
function touches(segment: Segment, box: Box, margin: number): boolean {
  const [x1, y1, x2, y2] = segment;
  let enter = 0;
  let leave = 1;
  for (const [start, delta, low, high] of [
    [x1, x2 - x1, box.left - margin, box.right + margin],
    [y1, y2 - y1, box.top - margin, box.bottom + margin],
  ] as const) {
    if (delta === 0) {
      if (start < low || start > high) return false;
      continue;
    }
    const a = (low - start) / delta;
    const b = (high - start) / delta;
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  }
  return enter <= leave;
}

/** Whether two segments cross. */
function cross(a: Segment, b: Segment): boolean {
  const side = (s: Segment, x: number, y: number): number => (s[2] - s[0]) * (y - s[1]) - (s[3] - s[1]) * (x - s[0]);
  return (
    side(a, b[0], b[1]) * side(a, b[2], b[3]) <= 0 &&
    side(b, a[0], a[1]) * side(b, a[2], a[3]) <= 0 &&
    (a[0] !== a[2] || b[0] !== b[2] || Math.abs(a[0] - b[0]) < 1)
  );
}
