import type { Interval } from '../baseline/index.js';
import { quantileInPlace, type Workspace } from '../numeric/index.js';
import type { Pyramid } from '../signal/index.js';
import type { Extremum } from './extrema.js';

/**
 * Whether an extreme is the ground between two narrower ones of the other sign,
 * rather than a peak: resolved peaks are narrower than what lies between them.
 */
export function isGround(
  e: Extremum,
  before: Extremum | undefined,
  after: Extremum | undefined,
  polarity: 1 | -1,
  range: Interval,
): boolean {
  if (before?.sign === e.sign || after?.sign === e.sign) return false;
  const sides = [before, after]
    .filter((o) => o !== undefined && !o.atEnd && o.prominence > 0.5 * e.prominence)
    .map((o) => o!.width);
  if (sides.length === 0) return false;
  // In a crowd the valleys are the narrower ones: what points the way of the run needs more to be ground.
  const left = before === undefined ? range.from : before.at + before.width / 2;
  const right = after === undefined ? range.to : after.at - after.width / 2;
  // Ground fills the whole room between its neighbours; a peak of the other direction leaves some on both sides.
  if (e.width < 0.5 * (right - left)) return false;
  const factor = (sides.length === 2 ? 1.3 : 2) * (e.sign === polarity ? 3 : 1);
  return e.width > factor * Math.max(...sides);
}

/** The direction in which the run reaches further from its middle level. */
export function mainDirection(pyramid: Pyramid, workspace: Workspace): 1 | -1 {
  let level = 0;
  while (level + 1 < pyramid.levels.length && pyramid.levels[level]!.length > 4000) level++;
  const means = pyramid.levels[level]!;
  const sorted = workspace.take('direction', means.length);
  sorted.set(means);
  const middle = quantileInPlace(sorted, means.length, 0.5);
  let high = 0;
  let low = 0;
  for (let i = 0; i < means.length; i++) {
    high = Math.max(high, means[i]! - middle);
    low = Math.max(low, middle - means[i]!);
  }
  return high >= low ? 1 : -1;
}
