/**
 * Range of points about the least-squares straight line through them.
 *
 * @param time - N positions.
 * @param value - N values.
 * @param ranges - The points to take: first index and index after the last, for each run of them.
 */
export function rangeAboutLine(
  time: Float64Array,
  value: Float64Array,
  ranges: readonly (readonly [number, number])[],
): number {
  const origin = time[ranges[0]![0]]!;
  const level = value[ranges[0]![0]]!;
  let n = 0;
  let st = 0;
  let sy = 0;
  let stt = 0;
  let sty = 0;
  for (const [first, after] of ranges) {
    n += after - first;
    for (let i = first; i < after; i++) {
      const t = time[i]! - origin;
      const y = value[i]! - level;
      st += t;
      sy += y;
      stt += t * t;
      sty += t * y;
    }
  }
  const slope = (sty - (st * sy) / n) / (stt - (st * st) / n) || 0;
  let low = Infinity;
  let high = -Infinity;
  for (const [first, after] of ranges) {
    for (let i = first; i < after; i++) {
      const y = value[i]! - level - slope * (time[i]! - origin);
      if (y < low) low = y;
      if (y > high) high = y;
    }
  }
  return high - low;
}
